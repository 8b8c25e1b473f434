/** The figures of one reading, each with its 95 % interval and the band that it had to lie in. */
import { limitBands } from '../../../../record/limit-bands.ts';
import type { MeasuredReading } from '../../../../record/reading.ts';
import { REPORTED_FIELDS } from '../../../../record/term-fields.ts';
import { nameFigure, unitOfFigure } from '../../../../wording/name-field.ts';
import { decimalsForUncertainty, formatGiven, formatNumber, formatSigned } from '../../../../wording/numbers.ts';
import { translate } from '../../../../wording/translate.ts';

const FIELDS = [...REPORTED_FIELDS, 'crosstalk_left_pct', 'crosstalk_right_pct'] as const;

export function Figures({ reading }: { readonly reading: MeasuredReading }) {
  const bands = limitBands(reading);
  return (
    <table className="logbook-table">
      <thead>
        <tr>
          <th scope="col">{translate('logbook.figure')}</th>
          <th scope="col" className="logbook-number">
            {translate('logbook.value')}
          </th>
          <th scope="col" className="logbook-number">
            {translate('logbook.limit')}
          </th>
        </tr>
      </thead>
      <tbody>
        {FIELDS.map((field) => {
          const { value, u } =
            field === 'crosstalk_left_pct' || field === 'crosstalk_right_pct'
              ? reading.eyes[field]
              : reading.misalignment[field];
          const decimals = decimalsForUncertainty(u);
          const unit = unitOfFigure(field);
          const band = bands[field];
          const limit = band && Math.max(Math.abs(band.low ?? 0), Math.abs(band.high ?? 0));
          return (
            <tr key={field}>
              <th scope="row">{nameFigure(field)}</th>
              <td className="logbook-number">
                {formatSigned(value, decimals)} ± {formatNumber(2 * u, decimals)} {unit}
              </td>
              <td className="logbook-number">
                {limit === undefined
                  ? translate('logbook.no-limit')
                  : `${formatGiven(Number(limit.toPrecision(2)))} ${unit}`}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
