/** Our own scheme answers with the gateway's responses, which are the same as those of the browser host. */
import { protocol } from 'electron';
import { isOurAddress, PAGE_ORIGIN, PAGE_SCHEME } from './page-address.ts';

/** A page of this scheme has an origin, storage and a camera like one from the web. Before the runtime is ready. */
export function registerScheme(): void {
  protocol.registerSchemesAsPrivileged([
    { scheme: PAGE_SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true, stream: true } },
  ]);
}

export function servePage(answer: (request: Request) => Promise<Response>): void {
  protocol.handle(PAGE_SCHEME, async (request) => {
    if (!isOurAddress(request.url)) return new Response(null, { status: 404 });
    // Nothing but our own page is ever loaded, so only it can ask here; the runtime may leave out that it did.
    if (!request.headers.has('origin')) request.headers.set('origin', PAGE_ORIGIN);
    return answer(request);
  });
}
