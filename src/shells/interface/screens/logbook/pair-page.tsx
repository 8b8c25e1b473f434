/** Before and after: one sentence, the photographs of both beside each other, and every figure with what it did. */
import { ADDRESSES } from '../../../../contract/addresses.ts';
import type { Paper } from '../../../../contract/logbook.ts';
import type { TermChange } from '../../../../record/comparison.ts';
import { SHOT_ROLES } from '../../../../record/roles.ts';
import {
  describeComparisonMethod,
  formatChange,
  formatDoubt,
  formatLightChange,
  formatStrayChange,
  translateComparison,
} from '../../../../wording/comparison.ts';
import { nameField } from '../../../../wording/terms.ts';
import { formatTurnAmount } from '../../../../wording/turns.ts';
import type { Host } from '../../host/host.ts';
import { Notice } from '../../parts/notice.tsx';
import { ChangeMark, VerdictMark } from '../../../../drawings/verdict-mark.tsx';
import { translate } from '../../../../wording/translate.ts';
import { EntryPhotographs, ExportButtons } from './entry-parts.tsx';
import { addressOfPlace } from './logbook-place.ts';
import { formatDateTime } from '../../../../wording/date-time.ts';
import { useAnswer } from './use-logbook.ts';

export interface PairPageProps {
  readonly host: Host;
  readonly before: string;
  readonly after: string;
  readonly paper: Paper;
  readonly onPaper: (paper: Paper) => void;
}

export function PairPage({ host, before, after, paper, onPaper }: PairPageProps) {
  const { value: pair, failure } = useAnswer(host, 'logbook.compare', { before, after });
  if (failure) return <Notice kind="problem" message={failure.message} remedy={failure.remedy} />;
  if (!pair) return <p role="status">{translate('logbook.opening')}</p>;
  const { comparison } = pair;
  return (
    <article className="logbook-entry">
      <header className="logbook-head">
        <h1>{translateComparison(comparison)}</h1>
        {comparison.turns_made.length > 0 && (
          <p>
            {translate('logbook.turned-between', {
              turns: comparison.turns_made
                .map(({ adjustment, turns, direction }) =>
                  translate('logbook.turn', { adjustment, amount: formatTurnAmount(turns), direction }),
                )
                .join('; '),
            })}
          </p>
        )}
      </header>
      {comparison.doubts.map((doubt) => (
        <Notice key={doubt} kind="note" message={formatDoubt(doubt)} />
      ))}
      <div className="logbook-sides">
        {(['before', 'after'] as const).map((side) => (
          <section key={side}>
            <h2>{translate(`logbook.${side}`)}</h2>
            <p className="logbook-side-facts">
              <a href={addressOfPlace({ view: 'entry', id: pair[side].id })}>{formatDateTime(pair[side].saved_at)}</a>
              <VerdictMark verdict={comparison[side]} />
            </p>
            <p className="logbook-side-sentence">{pair[side].sentence}</p>
            <EntryPhotographs
              shots={SHOT_ROLES.flatMap((role) => {
                const sha256 = pair[side].photographs[pair[side].roles.indexOf(role)];
                return sha256 === undefined ? [] : [{ role, name: '', sha256 }];
              })}
            />
          </section>
        ))}
      </div>
      <section>
        <h2>{translate('logbook.what-changed')}</h2>
        <table className="logbook-table">
          <thead>
            <tr>
              <th scope="col">{translate('logbook.figure')}</th>
              {(['before', 'after', 'change'] as const).map((column) => (
                <th key={column} scope="col" className="logbook-number">
                  {translate(`logbook.${column}`)}
                </th>
              ))}
              <th scope="col">{translate('logbook.verdict')}</th>
            </tr>
          </thead>
          <tbody>{comparison.terms.map(drawChange)}</tbody>
        </table>
        <p className="logbook-about">{describeComparisonMethod()}</p>
        {comparison.masking && (
          <ul className="logbook-masking">
            {[
              ...comparison.masking.strays.map(formatStrayChange),
              ...comparison.masking.light.map(formatLightChange),
            ].map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        )}
      </section>
      <ExportButtons
        host={host}
        paper={paper}
        onPaper={onPaper}
        orders={[
          {
            label: translate('logbook.report-pdf'),
            address: ADDRESSES.logbook.pair(before, after, 'report.pdf', paper),
          },
          {
            label: translate('logbook.report-html'),
            address: ADDRESSES.logbook.pair(before, after, 'report.html', paper),
          },
          { label: translate('logbook.pair-json'), address: ADDRESSES.logbook.pair(before, after, 'comparison.json') },
        ]}
      />
    </article>
  );
}

function drawChange(term: TermChange) {
  const { before, after, change, uncertainty } = formatChange(term);
  return (
    <tr key={term.field} className={term.isSignificant ? undefined : 'logbook-unchanged'}>
      <th scope="row">{nameField(term.field)}</th>
      <td className="logbook-number">{before}</td>
      <td className="logbook-number">{after}</td>
      <td className="logbook-number">
        {change} ± {uncertainty}
      </td>
      <td>
        <ChangeMark term={term} />
      </td>
    </tr>
  );
}
