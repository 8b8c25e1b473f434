/**
 * What the window's page may do: it shows our page and nothing else, reaches no network, gets a camera's picture and the
 * screen (whole, and kept lit, as the booth view does) and nothing else of the machine, and saves only our own files.
 */
import { join } from 'node:path';
import { type WebContents, app, systemPreferences } from 'electron';
import { isPageItself, isOurAddress, isOurBlob } from './page-address.ts';

export function guardNavigation(contents: WebContents): void {
  contents.setWindowOpenHandler(() => ({ action: 'deny' }));
  contents.on('will-attach-webview', (event) => event.preventDefault());
  // The page itself stays allowed, so that it can load itself anew.
  contents.on('will-frame-navigate', (event) => {
    if (!event.isMainFrame || !isPageItself(event.url)) event.preventDefault();
  });
  contents.on('will-navigate', (event) => {
    if (!isPageItself(event.url)) event.preventDefault();
  });
  contents.on('will-redirect', (event) => event.preventDefault());
}

/** Before the runtime is ready. */
export function blockNetwork(): void {
  app.commandLine.appendSwitch('host-resolver-rules', 'MAP * ~NOTFOUND');
  app.commandLine.appendSwitch('disable-background-networking');
  app.commandLine.appendSwitch('no-pings');
  app.on('certificate-error', (event, _contents, _url, _error, _certificate, answer) => {
    event.preventDefault();
    answer(false);
  });
}

export function guardNetwork(contents: WebContents): void {
  contents.session.webRequest.onBeforeRequest(({ url }, answer) => answer({ cancel: !staysInside(url) }));
  // Calls between browsers go past the filter above; without a proxy, which there is none, they reach nobody.
  contents.setWebRTCIPHandlingPolicy('disable_non_proxied_udp');
  // The dictionary would be fetched.
  contents.session.setSpellCheckerEnabled(false);
}

const staysInside = (url: string): boolean =>
  isOurAddress(url) || isOurBlob(url) || url.startsWith('data:') || url.startsWith('devtools:');

interface Asking {
  readonly permission: string;
  readonly mediaTypes: readonly (string | undefined)[];
  readonly isMainFrame: boolean;
  /** Who asks, by every address that is known of it. */
  readonly from: readonly (string | undefined)[];
}

const OF_THE_SCREEN: readonly string[] = ['fullscreen', 'screen-wake-lock'];

const isGranted = (asking: Asking): boolean =>
  asking.isMainFrame && asking.from.every(isOurAddress) && (isOfTheScreen(asking) || isOfTheCamera(asking));

const isOfTheScreen = ({ permission }: Asking) => OF_THE_SCREEN.includes(permission);

const isOfTheCamera = ({ permission, mediaTypes }: Asking) =>
  permission === 'media' && mediaTypes.length > 0 && mediaTypes.every((type) => type === 'video');

export function guardPermissions(contents: WebContents): void {
  contents.session.setPermissionRequestHandler((asking, permission, answer, details) => {
    const isOurs = isGranted({
      permission,
      mediaTypes: 'mediaTypes' in details ? (details.mediaTypes ?? []) : [],
      isMainFrame: details.isMainFrame,
      from: [asking.getURL(), details.requestingUrl, ...('securityOrigin' in details ? [details.securityOrigin] : [])],
    });
    if (!isOurs || permission !== 'media') answer(isOurs);
    else void askSystemForCamera().then(answer, () => answer(false));
  });

  contents.session.setPermissionCheckHandler((asking, permission, requestingOrigin, details) =>
    isGranted({
      permission,
      mediaTypes: [details.mediaType],
      isMainFrame: details.isMainFrame,
      from: [asking?.getURL(), requestingOrigin],
    }),
  );

  // Serial, USB and HID devices.
  contents.session.setDevicePermissionHandler(() => false);
}

/** Only macOS asks the person itself, once; elsewhere the system's settings hold. */
async function askSystemForCamera(): Promise<boolean> {
  return process.platform !== 'darwin' || systemPreferences.askForMediaAccess('camera');
}

const OF_A_ROUND = /^\/rounds\/\d+\/(report\.html|reading\.json)$/;

export function guardDownloads(contents: WebContents): void {
  contents.session.on('will-download', (event, item) => {
    const address = item.getURL();
    const isOurs = isOurBlob(address) || (isOurAddress(address) && OF_A_ROUND.test(new URL(address).pathname));
    if (!isOurs) event.preventDefault();
    else item.setSaveDialogOptions({ defaultPath: join(app.getPath('documents'), item.getFilename()) });
  });
}
