/** Evenness for the terminal: the sentence, the field of each picture, the eyes, limits, notes, cautions. */
import type { Measured } from '../../kernel/measured.ts';
import type { EvennessPicture, EvennessRecord, MeasuredEvennessRecord } from '../../record/evenness.ts';
import type { LightPlace } from '../../record/light-codes.ts';
import { formatHotSpot, formatLuminance, formatPercent, nameLitPicture, namePlace } from '../../wording/light.ts';
import { translate } from '../../wording/translate.ts';
import { alignColumns, layOut, type TextStyle, wrapText } from './text-layout.ts';
import { tabulateLightFindings } from './render-budget.ts';

export function renderTextEvenness(record: EvennessRecord, style?: TextStyle): string {
  const blocks = record.outcome === 'measured' ? describe(record) : refuse(record);
  const text = blocks.filter((block) => block !== null).join('\n\n');
  return `${layOut(text, style)}\n`;
}

function refuse({ refusal }: Extract<EvennessRecord, { outcome: 'refused' }>): string[] {
  return [wrapText(refusal.message), wrapText(refusal.remedy)];
}

function describe(record: MeasuredEvennessRecord): (string | null)[] {
  return [
    wrapText(record.sentence),
    ...record.pictures.map(tabulatePicture),
    describeBalance(record.balance),
    tabulateLightFindings(record.findings),
    [
      translate('report.notes'),
      ...record.notes.flatMap(({ message, remedy }) => [
        wrapText(message, '  - '),
        ...(remedy === null ? [] : [wrapText(remedy, '    ')]),
      ]),
    ].join('\n'),
    [translate('report.cautions'), ...record.cautions.map((caution) => wrapText(caution, '  - '))].join('\n'),
    describeOrigin(record),
  ];
}

/** As they lie on the screen, row by row from the top. */
const LAYOUT: readonly (readonly LightPlace[])[] = [
  ['top-left', 'top', 'top-right'],
  ['left', 'centre', 'right'],
  ['bottom-left', 'bottom', 'bottom-right'],
];

function tabulatePicture({
  picture,
  of_centre_pct,
  luminance,
  hot_spot,
  right_over_left_pct,
  top_over_bottom_pct,
  samples,
}: EvennessPicture): string {
  const name = nameLitPicture(picture);
  return [
    translate('report.evenness-head', { picture: name }),
    alignColumns(
      'rrr',
      LAYOUT.map((row) => row.map((place) => formatPercent(of_centre_pct[place]))),
    ),
    ...(luminance
      ? [
          translate('report.luminance-head'),
          alignColumns(
            'rrr',
            LAYOUT.map((row) => row.map((place) => formatLuminance(luminance[place]))),
          ),
        ]
      : []),
    wrapText(formatHotSpot(hot_spot), '  '),
    wrapText(
      translate('report.halves', {
        sides: formatPercent(right_over_left_pct),
        heights: formatPercent(top_over_bottom_pct),
        used: samples.used,
        found: samples.found,
      }),
      '  ',
    ),
  ].join('\n');
}

function describeBalance(balance: MeasuredEvennessRecord['balance']): string | null {
  if (!balance) return null;
  const places = Object.entries(balance.places_pct) as [LightPlace, Measured][];
  const [darkest, brightest] = [
    places.reduce((a, b) => (b[1].value < a[1].value ? b : a)),
    places.reduce((a, b) => (b[1].value > a[1].value ? b : a)),
  ];
  return [
    translate('report.balance-head'),
    wrapText(
      translate('report.balance', {
        mean: formatPercent(balance.right_over_left_pct),
        min: formatPercent(darkest[1]),
        min_place: namePlace(darkest[0]),
        max: formatPercent(brightest[1]),
        max_place: namePlace(brightest[0]),
      }),
      '  ',
    ),
    balance.colour
      ? wrapText(
          translate('report.colour', {
            red: formatPercent(balance.colour.red_pct),
            blue: formatPercent(balance.colour.blue_pct),
          }),
          '  ',
        )
      : `  ${translate('report.colour-unknown')}`,
  ].join('\n');
}

function describeOrigin({ shots, vignetting, software, meter }: MeasuredEvennessRecord): string {
  const read = meter
    ? translate('report.meter', {
        luminance: formatLuminance(meter),
        place: namePlace(meter.place),
        picture: nameLitPicture(meter.of),
      })
    : '';
  const passed = translate('report.vignetting', {
    corner: formatPercent(vignetting.corner_pct),
    method: vignetting.method.split('-')[0],
  });
  return wrapText(`${shots.map(({ file }) => file).join(', ')}; ${passed}${read}; twinplumb ${software.version}.`);
}
