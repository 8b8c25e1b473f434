/**
 * The addresses at which a shell answers, the same on the desktop's own protocol and on the browser host.
 *
 *   POST /call/<procedure>                      JSON in, an outcome in JSON out
 *   GET  /events                                events, one JSON object per line, for as long as the page listens
 *   POST /shots/<slot>?name=                    the bytes of a photograph; an outcome with the workspace
 *   POST /live/frame?serial=&width=&height=&range=   luma bytes; an outcome with a frame's verdict
 *   GET  /photographs/<sha256>                  the photograph at full resolution, in a form a browser shows
 *   GET  /photographs/<sha256>?width=<px>       a smaller view of it
 *   GET  /rounds/<number>/report.html           the report as a file
 *   GET  /rounds/<number>/reading.json          the reading as the command line prints it
 *   GET  anything else                          the interface's own files
 */
import type { FrameHeader } from './live.ts';
import type { ProcedureName } from './procedures.ts';
import type { ShotSlot } from './shots.ts';

export const ADDRESSES = {
  call: (name: ProcedureName) => `/call/${name}`,
  events: '/events',
  addShot: (slot: ShotSlot, name: string) => `/shots/${slot}?name=${encodeURIComponent(name)}`,
  frame: ({ serial, width, height, range }: FrameHeader) =>
    `/live/frame?serial=${serial}&width=${width}&height=${height}&range=${range}`,
  photograph: (sha256: string, width?: number) =>
    `/photographs/${sha256}${width === undefined ? '' : `?width=${width}`}`,
  report: (round: number) => `/rounds/${round}/report.html`,
  reading: (round: number) => `/rounds/${round}/reading.json`,
} as const;

/** Largest body of a photograph; larger ones are refused before they are read. */
export const MOST_PHOTOGRAPH_BYTES = 256 * 2 ** 20;
/** Largest body of a call. */
export const MOST_CALL_BYTES = 2 ** 20;
