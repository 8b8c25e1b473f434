/** A null search for the terminal: the sentence first, then the ghosts turn by turn, then cautions. */
import type { Measured } from '../../kernel/measured.ts';
import type { FoundNullSearch, NullSearchRecord } from '../../record/null-search.ts';
import { decimalsForUncertainty, formatNumber, formatSigned } from '../../wording/numbers.ts';
import { formatLeak, formatDarkTo, formatKept, namePort } from '../../wording/polarizers.ts';
import { translate } from '../../wording/translate.ts';
import { alignColumns, layOut, type TextStyle, wrapText } from './text-layout.ts';
import type { ComparedPortShots, PortShotsRecord } from '../../record/port-shots.ts';

export function renderNullSearch(search: NullSearchRecord, style?: TextStyle): string {
  const blocks =
    search.outcome === 'found'
      ? [
          wrapText(search.sentence),
          listNotes(search),
          tabulateShots(search),
          describeNull(search),
          listCautions(search),
        ]
      : [
          wrapText(search.refusal.message),
          wrapText(search.refusal.remedy),
          search.refusal.file === null ? null : wrapText(translate('report.photograph', { file: search.refusal.file })),
          tabulateShots(search),
        ];
  const text = blocks.filter((block) => block !== null).join('\n\n');
  return `${layOut(text, style)}\n`;
}

function listNotes({ notes }: FoundNullSearch | ComparedPortShots): string | null {
  return block(
    translate('report.notes'),
    notes.map(({ message }) => wrapText(message, '  - ')),
  );
}

function tabulateShots({ shots, lens }: NullSearchRecord): string | null {
  if (shots.length === 0) return null;
  const rows = shots.map(({ file, turn_deg, leak_pct: { value, u } }, k) => {
    const decimals = Math.min(3, decimalsForUncertainty(u));
    const turn = turn_deg === null ? translate('report.step', { step: k }) : `${formatSigned(turn_deg, 1)} deg`;
    return [file, turn, `${formatNumber(value, decimals)} %`, `± ${formatNumber(2 * u, decimals)}`];
  });
  return [
    translate('report.ghost-through', { lens }),
    alignColumns('lrrr', [['', translate('report.column-turn'), translate('report.column-ghost'), '95 %'], ...rows]),
  ].join('\n');
}

function describeNull(search: FoundNullSearch): string {
  const { null_deg, further_deg, further_steps, step_deg, least_leak_pct, is_between } = search;
  const rows: string[][] = [];
  const addRow = (name: string, { value, u }: Measured, unit: string) => {
    const decimals = Math.min(2, decimalsForUncertainty(u));
    rows.push([name, `${formatSigned(value, decimals)} ${unit}`, `± ${formatNumber(2 * u, decimals)}`]);
  };
  if (null_deg) addRow(translate('report.on-scale'), null_deg, 'deg');
  if (further_deg) addRow(translate('report.from-last'), further_deg, 'deg');
  if (further_steps) addRow(translate('report.from-last'), further_steps, translate('report.unit-steps'));
  if (step_deg) addRow(translate('report.one-step'), step_deg, 'deg');
  const left = translate('report.null-left', { ghost: formatLeak(least_leak_pct) });
  const place = is_between ? [] : [wrapText(translate('report.null-outside'), '  ')];
  return [translate('report.null'), alignColumns('lrr', rows), ...place, wrapText(left, '  ')].join('\n');
}

function listCautions({ cautions }: FoundNullSearch | PortShotsRecord): string | null {
  return block(
    translate('report.cautions'),
    cautions.map((caution) => wrapText(caution, '  - ')),
  );
}

function block(title: string, lines: readonly string[]): string | null {
  return lines.length === 0 ? null : [title, ...lines].join('\n');
}

/** Port shots for the terminal: the sentence first, then each port, then cautions. */
export function renderPortShots(shots: PortShotsRecord, style?: TextStyle): string {
  const blocks =
    shots.outcome === 'compared'
      ? [wrapText(shots.sentence), listNotes(shots), tabulatePorts(shots)]
      : [wrapText(shots.refusal.message), wrapText(shots.refusal.remedy)];
  const text = [...blocks, listCautions(shots)].filter((block) => block !== null).join('\n\n');
  return `${layOut(text, style)}\n`;
}

function tabulatePorts({ ports }: ComparedPortShots): string {
  const rows = ports.map((port) => [
    namePort(port),
    formatDarkTo(port),
    translate('report.port-keeps', { kept: formatKept(port), lens: port.darker_through }),
  ]);
  return [translate('report.ports'), alignColumns('lll', rows)].join('\n');
}
