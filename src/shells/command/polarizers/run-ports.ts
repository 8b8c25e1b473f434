/** `ports`: two photographs of the attachment's front -> which port is dark to which eye, on stdout. */
import { reportPorts } from '../../../application/polarizers/describe-ports.ts';
import { renderPortShots } from '../../../report/text/render-ports.ts';
import { translatePortShots } from '../../../wording/polarizers.ts';
import { EXIT, type ExitStatus } from '../exit-status.ts';
import type { CommandWorld } from '../logbook/open-for-command.ts';
import { readHouseFile } from '../read-house-file.ts';

export interface PortsRequest {
  readonly left: string;
  readonly right: string;
  readonly house?: string;
  readonly json?: boolean;
}

export async function runPorts(
  { left, right, house, json }: PortsRequest,
  { terminal, software }: CommandWorld,
): Promise<ExitStatus> {
  const upper = house === undefined ? undefined : (await readHouseFile(house)).attachment?.upper_port_shows;
  const shots = { left: { path: left, name: left }, right: { path: right, name: right } };
  const expected = upper === undefined ? {} : { upperPortShows: upper };
  const record = translatePortShots(await reportPorts({ ...shots, ...expected, softwareVersion: software.version }));
  terminal.print(json ? `${JSON.stringify(record)}\n` : renderPortShots(record));
  return record.outcome === 'compared' ? EXIT.measured : EXIT.refused;
}
