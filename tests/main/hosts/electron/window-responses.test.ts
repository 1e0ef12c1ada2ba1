import { join } from 'node:path'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { picturePath } from '../../../../main/contract/picture-paths.ts'
import { windowFiles } from '../../../../main/hosts/electron/window-files.ts'
import { windowResponses } from '../../../../main/hosts/electron/window-responses.ts'
import { FAKE_JPEG, type FakeServices, fakeServices, temporaryWindow } from '../fake-services.ts'

let place: Awaited<ReturnType<typeof temporaryWindow>>
let services: FakeServices
let respond: (path: string, method?: string) => Promise<Response>

beforeEach(async () => {
  place = await temporaryWindow()
  services = fakeServices(place.folder)
  const files = await windowFiles(place.windowFolder)
  const responses = windowResponses({ files, pictures: services.pictures, log: vi.fn() })
  respond = (path, method = 'GET') => {
    const url = path.includes('://') ? path : `app://tiphold${path}`
    return responses(new Request(url, { method }))
  }
})

afterEach(() => place.remove())

test('the page comes with a policy under which only our own scripts run', async () => {
  const response = await respond('/')
  expect(await response.text()).toContain('<title>Tiphold</title>')
  expect(response.headers.get('content-type')).toBe('text/html; charset=utf-8')
  expect(response.headers.get('content-security-policy')).toContain("default-src 'none'; script-src 'self';")
  expect(response.headers.get('x-content-type-options')).toBe('nosniff')
})

test('a screen that is opened anew is the page again', async () => {
  expect(await (await respond('/rides/ride-1')).text()).toContain('<title>Tiphold</title>')
})

test('scripts come as scripts', async () => {
  const response = await respond('/assets/index-1a2b.js')
  expect(response.headers.get('content-type')).toBe('text/javascript; charset=utf-8')
})

test('pictures come as JPEG and may be kept', async () => {
  const response = await respond(picturePath('clip-1', 7, 'small'))
  expect(new Uint8Array(await response.arrayBuffer())).toEqual(FAKE_JPEG)
  expect(response.headers.get('content-type')).toBe('image/jpeg')
  expect(response.headers.get('cache-control')).toContain('immutable')
  expect(services.picturesAskedFor).toEqual(['clip-1 small 7'])
})

test('a picture of a clip that is not there is not found', async () => {
  expect((await respond(picturePath('clip-2', 0, 'frame'))).status).toBe(404)
})

test.each([
  '/secret.txt',
  '/../secret.txt',
  '/assets/../../secret.txt',
  '/%2e%2e/secret.txt',
  '/..%2Fsecret.txt',
  '/..%5Csecret.txt',
  '/assets',
  '/index.html%00.js',
  '//secret.txt',
  '/pictures/../../secret.txt',
  '/pictures/..%2F..%2Fsecret.txt/frame/0',
  '/pictures/clip-1%00/frame/0',
  '/pictures/clip-1/huge/0',
  '/pictures/clip-1/frame/-1',
  '/pictures/clip-1/frame/0?size=full',
])('%s gives nothing of the disk, and asks for no picture', async (path) => {
  const response = await respond(path)
  expect(await response.text()).not.toContain('a secret')
  expect(response.headers.get('content-type')).not.toBe('image/jpeg')
  expect(services.picturesAskedFor).toEqual([])
})

test('an absolute path gives nothing', async () => {
  expect((await respond(join(place.folder, 'secret.txt'))).status).toBe(404)
})

test('another host of the protocol, and anything but fetching, is refused', async () => {
  expect((await respond('app://elsewhere/')).status).toBe(403)
  expect((await respond('/', 'POST')).status).toBe(403)
})
