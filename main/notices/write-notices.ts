import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { NOTICES_PATH, thirdPartyNotices } from './third-party.ts'

const root = join(import.meta.dirname, '../..')
writeFileSync(join(root, NOTICES_PATH), thirdPartyNotices(root))
