/** How the rounds converge: each with its 95 % bar, what was expected as a hollow mark, the band of what is allowed. */
import { useState } from 'react';
import { listPlotted, type PlottedRound } from '../../../../contract/rounds.ts';
import type { Round } from '../../../../contract/workspace.ts';
import { chooseScale, type PlotScale } from '../../../../drawings/scale.ts';
import { REPORTED_FIELDS, type ReportedField } from '../../../../record/term-fields.ts';
import { decimalsForUncertainty, formatGiven, formatNumber } from '../../../../wording/numbers.ts';
import { formatTerm, nameTerm, unitOfTerm } from '../../../../wording/terms.ts';
import { translate } from '../../../../wording/translate.ts';
import { Disclosure } from '../../parts/dialog.tsx';
import { ListChoice } from '../../parts/field.tsx';
import './turns.css';

export interface RoundsPlotProps {
  readonly rounds: readonly Round[];
  /** Of each judged field, in its unit, by the last reading. */
  readonly limits: ReadonlyMap<ReportedField, number>;
}

const FIELDS: readonly ReportedField[] = ['worst_vertical_pct', ...REPORTED_FIELDS.slice(0, -1)];

export function RoundsPlot({ rounds, limits }: RoundsPlotProps) {
  const [field, setField] = useState<ReportedField>('worst_vertical_pct');
  const plotted = listPlotted(rounds, field);
  if (plotted.length < 2) return null;
  const limit = limits.get(field) ?? null;
  return (
    <section className="turns-rounds" aria-labelledby="turns-rounds">
      <h2 id="turns-rounds">{translate('turns.rounds')}</h2>
      <ListChoice
        label={translate('turns.plotted-term')}
        value={field}
        onChange={setField}
        options={FIELDS.map((value) => ({ value, label: nameTerm(value) }))}
      />
      <Plot plotted={plotted} field={field} limit={limit} />
      <Disclosure summary={translate('turns.rounds-table')}>
        <RoundsTable plotted={plotted} field={field} />
      </Disclosure>
    </section>
  );
}

const [WIDTH, HEIGHT] = [640, 300];
const [LEFT, RIGHT, TOP, FOOT] = [76, 24, 16, 260];

function Plot({
  plotted,
  field,
  limit,
}: {
  plotted: readonly PlottedRound[];
  field: ReportedField;
  limit: number | null;
}) {
  const areAmounts = field === 'worst_vertical_pct';
  const expected = plotted.flatMap((round) => (round.expected === null ? [] : [round.expected]));
  const scale = chooseScale({
    values: [
      ...plotted.flatMap(({ value, u }) => [value - 2 * u, value + 2 * u]),
      ...expected,
      ...(limit === null ? [] : areAmounts ? [limit] : [limit, -limit]),
    ],
    points: [...plotted.map(({ value }) => value), ...(limit === null ? [] : [limit])],
    areAmounts,
  });
  const y = (value: number) => FOOT - scale.place(value) * (FOOT - TOP);
  const x = (index: number) => LEFT + ((index + 0.5) / plotted.length) * (WIDTH - LEFT - RIGHT);
  const unit = unitOfTerm(field) === '°' ? '°' : ' %';
  const top = limit === null ? 0 : y(limit);
  const bottom = limit === null ? 0 : areAmounts ? FOOT : y(-limit);
  return (
    <>
      <svg
        className="turns-plot"
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="img"
        aria-label={formatPlot(plotted, field, scale)}
      >
        {limit !== null && (
          <>
            <rect className="turns-plot-band" x={LEFT} y={top} width={WIDTH - LEFT - RIGHT} height={bottom - top} />
            <path
              className="turns-plot-limit"
              d={`M${LEFT} ${top}H${WIDTH - RIGHT}${areAmounts ? '' : `M${LEFT} ${bottom}H${WIDTH - RIGHT}`}`}
            />
          </>
        )}
        {scale.ticks.map((tick) => (
          <g key={tick}>
            <path className="turns-plot-grid" d={`M${LEFT} ${y(tick)}H${WIDTH - RIGHT}`} />
            <text className="turns-plot-tick" x={LEFT - 10} y={y(tick) + 5}>
              {formatGiven(tick)}
              {unit}
            </text>
          </g>
        ))}
        <path
          className="turns-plot-way"
          d={plotted.map(({ value }, i) => `${i === 0 ? 'M' : 'L'}${x(i)} ${y(value)}`).join('')}
        />
        {plotted.map((round, i) => (
          <g key={round.number}>
            {round.expected !== null && (
              <circle className="turns-plot-expected" cx={x(i) - 14} cy={y(round.expected)} r="6" />
            )}
            <path
              className="turns-plot-bar"
              d={`M${x(i)} ${y(round.value - 2 * round.u)}V${y(round.value + 2 * round.u)}M${x(i) - 6} ${y(round.value - 2 * round.u)}h12M${x(i) - 6} ${y(round.value + 2 * round.u)}h12`}
            />
            <circle className="turns-plot-point" cx={x(i)} cy={y(round.value)} r="6" />
            <text className="turns-plot-round" x={x(i)} y={FOOT + 26}>
              {translate('turns.round', { number: round.number })}
            </text>
          </g>
        ))}
      </svg>
      <p className="turns-key">
        <svg viewBox="0 0 16 16" aria-hidden="true">
          <circle className="turns-plot-point" cx="8" cy="8" r="5" />
        </svg>
        {translate('turns.key-measured')}
        <svg viewBox="0 0 16 16" aria-hidden="true">
          <circle className="turns-plot-expected" cx="8" cy="8" r="5" />
        </svg>
        {translate('turns.key-expected')}
        {limit !== null && (
          <>
            <svg viewBox="0 0 16 16" aria-hidden="true">
              <rect className="turns-plot-band" x="0" y="2" width="16" height="12" />
              <path className="turns-plot-limit" d="M0 2H16" />
            </svg>
            {translate('turns.key-allowed')}
          </>
        )}
        {scale.kind === 'logarithmic' && <span>{translate('turns.key-logarithmic')}</span>}
      </p>
    </>
  );
}

function RoundsTable({ plotted, field }: { readonly plotted: readonly PlottedRound[]; readonly field: ReportedField }) {
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">{translate('turns.round-head')}</th>
          <th scope="col" className="turns-n">
            {nameTerm(field)}
          </th>
          <th scope="col" className="turns-n">
            {translate('turns.expected')}
          </th>
        </tr>
      </thead>
      <tbody>
        {plotted.map((round) => (
          <tr key={round.number}>
            <th scope="row">{round.number}</th>
            <td className="turns-n">{formatPoint(round, field)}</td>
            <td className="turns-n">
              {round.expected === null ? translate('turns.none') : formatValue(field, round.expected, round.u)}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function formatValue(field: ReportedField, value: number, u: number): string {
  return `${formatTerm(field, value, Math.min(4, decimalsForUncertainty(2 * u)))}${unitOfTerm(field) === '°' ? '°' : ' %'}`;
}

function formatPoint({ value, u }: PlottedRound, field: ReportedField): string {
  const decimals = Math.min(4, decimalsForUncertainty(2 * u));
  return `${formatTerm(field, value, decimals)} ± ${formatNumber(2 * u, decimals)}${unitOfTerm(field) === '°' ? '°' : ' %'}`;
}

function formatPlot(plotted: readonly PlottedRound[], field: ReportedField, { kind }: PlotScale): string {
  const points = plotted.map((round) =>
    translate('turns.plot-point', { round: round.number, value: formatPoint(round, field) }),
  );
  return translate('turns.plot-name', { term: nameTerm(field), points: points.join('; '), scale: kind });
}
