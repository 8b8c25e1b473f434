/** The one thing that the page may ask of the machine is a camera's picture; everything else is denied. */
import { systemPreferences, type WebContents } from 'electron';
import { isOurAddress } from './page-address.ts';

interface Asking {
  readonly permission: string;
  readonly mediaTypes: readonly (string | undefined)[];
  readonly isMainFrame: boolean;
  /** Who asks, by every address that is known of it. */
  readonly from: readonly (string | undefined)[];
}

const isGranted = ({ permission, mediaTypes, isMainFrame, from }: Asking): boolean =>
  permission === 'media' &&
  mediaTypes.length > 0 &&
  mediaTypes.every((type) => type === 'video') &&
  isMainFrame &&
  from.every(isOurAddress);

export function guardPermissions(contents: WebContents): void {
  contents.session.setPermissionRequestHandler((asking, permission, answer, details) => {
    const isOurs = isGranted({
      permission,
      mediaTypes: 'mediaTypes' in details ? (details.mediaTypes ?? []) : [],
      isMainFrame: details.isMainFrame,
      from: [asking.getURL(), details.requestingUrl, ...('securityOrigin' in details ? [details.securityOrigin] : [])],
    });
    if (!isOurs) answer(false);
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
