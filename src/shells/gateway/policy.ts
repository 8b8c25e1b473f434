/**
 * What every answer tells the browser: run only our own files, talk to nobody else, be framed by nobody, and let the
 * camera be used by our own page alone.
 */
const CONTENT: Readonly<Record<string, string>> = {
  'default-src': "'none'",
  'script-src': "'self'",
  'style-src': "'self'",
  'img-src': "'self' blob: data:",
  'connect-src': "'self'",
  'worker-src': "'self'",
  'media-src': "'self' blob: mediastream:",
  'font-src': "'self'",
  'form-action': "'none'",
  'base-uri': "'none'",
  'frame-ancestors': "'none'",
};

/** What a page could ask of the machine; nothing but the camera and the whole screen is needed. */
const PERMISSIONS: Readonly<Record<string, string>> = {
  camera: '(self)',
  fullscreen: '(self)',
  'screen-wake-lock': '(self)',
  accelerometer: '()',
  'clipboard-read': '(self)',
  'display-capture': '()',
  geolocation: '()',
  gyroscope: '()',
  hid: '()',
  magnetometer: '()',
  microphone: '()',
  midi: '()',
  payment: '()',
  serial: '()',
  usb: '()',
};

export const CONTENT_POLICY = Object.entries(CONTENT)
  .map(([directive, sources]) => `${directive} ${sources}`)
  .join('; ');

/** A document that is handed out as a file and never shown in place: its own style and pictures, nothing else. */
export const REPORT_POLICY = "default-src 'none'; img-src data:; style-src 'unsafe-inline'; sandbox";

export const POLICY_HEADERS: Readonly<Record<string, string>> = {
  'content-security-policy': CONTENT_POLICY,
  'permissions-policy': Object.entries(PERMISSIONS)
    .map(([feature, list]) => `${feature}=${list}`)
    .join(', '),
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'x-frame-options': 'DENY',
};
