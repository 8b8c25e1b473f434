/** What rounds have shown of each adjustment, per clockwise turn, beside what the House says of it. */
import type { MeasuredReading } from '../record/reading.ts';
import { formatLearningColumn, listLearned } from '../wording/learning.ts';

export function LearnedTable({ learning }: { readonly learning: NonNullable<MeasuredReading['learning']> }) {
  return (
    <table className="learned">
      <caption>{formatLearningColumn('heading')}</caption>
      <thead>
        <tr>
          <th scope="col">{formatLearningColumn('column.adjustment')}</th>
          <th scope="col">{formatLearningColumn('column.term')}</th>
          <th scope="col" className="n">
            {formatLearningColumn('column.stated')}
          </th>
          <th scope="col" className="n">
            {formatLearningColumn('column.learned')}
          </th>
          <th scope="col" className="n">
            {formatLearningColumn('column.backlash')}
          </th>
        </tr>
      </thead>
      <tbody>
        {listLearned(learning).map(({ label, term, stated, learned, backlash, isTried }) => (
          <tr key={label}>
            <th scope="row">{label}</th>
            <td>{term ?? '–'}</td>
            <td className="n">{stated ?? formatLearningColumn('unknown')}</td>
            <td className="n">{isTried ? (learned ?? '–') : formatLearningColumn('untried')}</td>
            <td className="n">{backlash}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
