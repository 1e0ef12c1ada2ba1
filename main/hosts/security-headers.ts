/**
 * What every answer to the window carries, from both hosts: scripts, styles, pictures and fonts from the host alone,
 * sound from the page itself, the microphone for spoken comments, nothing inline, no frames, no forms, nothing guessed, nothing told to others.
 */
export const SECURITY_HEADERS: Readonly<Record<string, string>> = {
  'content-security-policy': [
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self' blob:",
    'media-src blob:',
    "font-src 'self'",
    "connect-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ].join('; '),
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
  'referrer-policy': 'same-origin',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'permissions-policy': 'camera=(), microphone=(self), geolocation=(), usb=(), payment=()',
}
