/** Evenness for the terminal: the sentence, the field of each picture, the eyes, limits, notes, cautions. */
import type { EvennessPicture, EvennessRecord, MeasuredEvennessRecord } from '../../record/evenness.ts';
import type { LightPlace } from '../../record/light-finding.ts';
import { formatHotSpot, formatLuminance, formatPercent, nameLitPicture, namePlace } from '../../wording/light.ts';
import { alignColumns, wrapText } from './lay-out.ts';
import { plainText } from './plain-text.ts';
import { tabulateLightFindings } from './render-budget.ts';

export function renderTextEvenness(record: EvennessRecord): string {
  const blocks = record.outcome === 'measured' ? describe(record) : refuse(record);
  const text = blocks.filter((block) => block !== null).join('\n\n');
  return `${plainText(text).replaceAll('−', '-')}\n`;
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
      'Notes',
      ...record.notes.flatMap(({ message, remedy }) => [
        wrapText(message, '  - '),
        ...(remedy === null ? [] : [wrapText(remedy, '    ')]),
      ]),
    ].join('\n'),
    ['Cautions', ...record.cautions.map((caution) => wrapText(caution, '  - '))].join('\n'),
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
    `The ${name}, in percent of its centre, as seen from the audience (95 %)`,
    alignColumns(
      'rrr',
      LAYOUT.map((row) => row.map((place) => formatPercent(of_centre_pct[place]))),
    ),
    ...(luminance
      ? [
          'In candela per square metre, and footlamberts',
          alignColumns(
            'rrr',
            LAYOUT.map((row) => row.map((place) => formatLuminance(luminance[place]))),
          ),
        ]
      : []),
    wrapText(formatHotSpot(hot_spot), '  '),
    wrapText(
      `Right half over left half ${formatPercent(right_over_left_pct)}, top half over bottom half ${formatPercent(top_over_bottom_pct)}; ${samples.used} of ${samples.found} places counted.`,
      '  ',
    ),
  ].join('\n');
}

function describeBalance(balance: MeasuredEvennessRecord['balance']): string | null {
  if (!balance) return null;
  const places = Object.entries(balance.places_pct) as [LightPlace, { value: number; u: number }][];
  const [least, most] = [
    places.reduce((a, b) => (b[1].value < a[1].value ? b : a)),
    places.reduce((a, b) => (b[1].value > a[1].value ? b : a)),
  ];
  return [
    'The right eye’s light over the left eye’s',
    wrapText(
      `${formatPercent(balance.right_over_left_pct)} over the picture; from ${formatPercent(least[1])} (${namePlace(least[0])}) to ${formatPercent(most[1])} (${namePlace(most[0])}).`,
      '  ',
    ),
    balance.colour
      ? wrapText(
          `Colour, against green: red ${formatPercent(balance.colour.red_pct)}, blue ${formatPercent(balance.colour.blue_pct)}; 100 % is alike.`,
          '  ',
        )
      : '  Colour could not be compared.',
  ].join('\n');
}

const METHODS = {
  'flat-field': 'known from the photograph of an even surface',
  'turned-camera': 'known from the photograph with the camera panned',
  assumed: 'assumed',
} as const;

function describeOrigin({ shots, vignetting, software, meter }: MeasuredEvennessRecord): string {
  const read = meter
    ? `; meter ${formatLuminance(meter)} in the ${namePlace(meter.place)} of the ${nameLitPicture(meter.of)}`
    : '';
  return wrapText(
    `${shots.map(({ file }) => file).join(', ')}; the camera’s lens passes ${formatPercent(vignetting.corner_pct)} to the corners of its frame, ${METHODS[vignetting.method]}${read}; twinplumb ${software.version}.`,
  );
}
