/** The program works alone: nothing that it shows can reach a network, by name, by address or beside the page. */
import { app, type WebContents } from 'electron';
import { isOurAddress, isOurBlob } from './page-address.ts';

/** Before the runtime is ready. */
export function cutOffNetwork(): void {
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
