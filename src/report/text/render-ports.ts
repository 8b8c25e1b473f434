/** Port shots for the terminal: the sentence first, then each port, then cautions. */
import type { ComparedPortShots, PortShotsRecord } from '../../record/port-shots.ts';
import { formatDarkTo, formatKept, namePort } from '../../wording/polarizers.ts';
import { translate } from '../../wording/translate.ts';
import { alignColumns, wrapText } from './lay-out.ts';

export function renderPortShots(shots: PortShotsRecord): string {
  const blocks =
    shots.outcome === 'compared'
      ? [wrapText(shots.sentence), listNotes(shots), tabulatePorts(shots)]
      : [wrapText(shots.refusal.message), wrapText(shots.refusal.remedy)];
  const cautions = [translate('report.cautions'), ...shots.cautions.map((caution) => wrapText(caution, '  - '))].join(
    '\n',
  );
  return `${[...blocks, cautions]
    .filter((block) => block !== null)
    .join('\n\n')
    .replaceAll('−', '-')}\n`;
}

function listNotes({ notes }: ComparedPortShots): string | null {
  if (notes.length === 0) return null;
  return [translate('report.notes'), ...notes.map(({ message }) => wrapText(message, '  - '))].join('\n');
}

function tabulatePorts({ ports }: ComparedPortShots): string {
  const rows = ports.map((port) => [
    namePort(port),
    formatDarkTo(port),
    translate('report.port-keeps', { kept: formatKept(port), lens: port.darker_through }),
  ]);
  return [translate('report.ports'), alignColumns('lll', rows)].join('\n');
}
