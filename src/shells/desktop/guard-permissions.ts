/**
 * Of what the machine knows, the page gets a camera's picture and nothing else. Besides it may fill the screen and keep
 * it lit, as the booth view does, which tells it nothing.
 */
import { systemPreferences, type WebContents } from 'electron';
import { isOurAddress } from './page-address.ts';

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
