/** What to do: the turns with their dials, what no adjustment cures, and the causes with the check to make first. */
import type { ReactNode } from 'react';
import { TurnDial } from '../../drawings/dial.tsx';
import { listNeededMotion } from '../../record/judge-reading.ts';
import type { ReadingCause, ReadingNextCheck } from '../../record/diagnosis.ts';
import type { MeasuredReading, ReadingTrialTurn, ReadingTurn } from '../../record/reading.ts';
import { REPORTED_FIELDS } from '../../record/term-fields.ts';
import {
  type AnsweredCheck,
  formatEvidence,
  formatProbability,
  groupCauses,
  introduceGroup,
  listChecks,
  translateAnswer,
  translateCause,
  translateCheck,
} from '../../wording/causes.ts';
import { cautionOfCheck, cautionOfTurn } from '../../wording/cautions.ts';
import { decimalsForUncertainty } from '../../wording/numbers.ts';
import { formatTerm, nameTerm, unitOfTerm } from '../../wording/terms.ts';
import { translate } from '../../wording/translate.ts';
import {
  capitalise,
  formatHowFar,
  formatIncurableTerm,
  formatMotion,
  listTurnNotes,
  shortenLabel,
  translateIncurable,
} from '../../wording/turns.ts';
import { LearnedTable } from '../../drawings/learned-table.tsx';
import { List, Section } from './document.tsx';

export function Turns({ reading }: { readonly reading: MeasuredReading }) {
  const { advice, turns, trial_turns } = reading;
  if (advice === 'motion-only') {
    return (
      <Section title={translate('report.motion')} note={translate('report.motion-note')}>
        <List items={listNeededMotion(reading).map(formatMotion)} />
      </Section>
    );
  }
  return (
    <>
      {turns.length > 0 && (
        <Section title={translate('report.turns')} note={translate('report.turns-note')}>
          <ol className="turns">
            {turns.map((turn) => (
              <TurnItem key={turn.order} turn={turn} notes={listTurnNotes(turn)} caution={cautionOfTurn()} />
            ))}
          </ol>
          <LeftAfterwards reading={reading} />
        </Section>
      )}
      {reading.learning && reading.learning.rounds > 0 && (
        <Section title={translate('report.learned')} note={reading.learning.sentence}>
          <LearnedTable learning={reading.learning} />
        </Section>
      )}
      {trial_turns.length > 0 && (
        <Section title={translate('report.trials')} note={translate('report.trials-note')}>
          <ol className="turns">
            {trial_turns.map((turn) => (
              <TurnItem key={turn.order} turn={turn} notes={[]} caution={cautionOfTurn()} />
            ))}
          </ol>
        </Section>
      )}
    </>
  );
}

interface TurnItemProps {
  readonly turn: ReadingTurn | ReadingTrialTurn;
  readonly notes: readonly string[];
  readonly caution: string;
}

function TurnItem({ turn, notes, caution }: TurnItemProps) {
  const howFar = formatHowFar(turn);
  const name = shortenLabel(turn.label);
  const place = turn.label.slice(name.length).replace(/^[\s,;(]+|[\s)]+$/g, '');
  return (
    <li>
      <TurnDial turn={turn} name={howFar} />
      <div>
        <p className="what">
          {turn.order}. {capitalise(name)}
        </p>
        <p className="how">{howFar}</p>
        {turn.order === 1 && <p className="step-caution">{caution}</p>}
        {[...(place === '' ? [] : [`${capitalise(place)}.`]), ...notes].map((note) => (
          <p key={note} className="note">
            {note}
          </p>
        ))}
      </div>
    </li>
  );
}

/** Only the terms that the turns change by more than their uncertainty. */
function LeftAfterwards({ reading: { misalignment, predicted_after } }: { readonly reading: MeasuredReading }) {
  const changed = REPORTED_FIELDS.filter(
    (field) => Math.abs(predicted_after[field] - misalignment[field].value) > misalignment[field].u,
  );
  return (
    <>
      <div className="scroll">
        <table className="after">
          <thead>
            <tr>
              <th scope="col">{translate('report.predicted-title')}</th>
              <th scope="col" className="n">
                {translate('report.now')}
              </th>
              <th scope="col" className="n">
                {translate('report.after-turns')}
              </th>
            </tr>
          </thead>
          <tbody>
            {changed.map((field) => {
              const { value, u } = misalignment[field];
              const decimals = decimalsForUncertainty(2 * u);
              const unit = unitOfTerm(field) === '°' ? '°' : ' %';
              return (
                <tr key={field}>
                  <th scope="row">{nameTerm(field)}</th>
                  <td className="n">{`${formatTerm(field, value, decimals)}${unit}`}</td>
                  <td className="n">{`${formatTerm(field, predicted_after[field], decimals)}${unit}`}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
      <p className="note">{translate('report.rest-stays')}</p>
    </>
  );
}

export function Incurable({ reading: { incurable } }: { readonly reading: MeasuredReading }) {
  if (incurable.length === 0) return null;
  return (
    <Section title={translate('report.not-adjustable')} note={translate('report.not-adjustable-note')}>
      <List
        items={incurable.map((item) => (
          <>
            <b>{formatIncurableTerm(item)}</b>
            <List items={item.reasons.map((reason) => translateIncurable(reason))} />
          </>
        ))}
      />
    </Section>
  );
}

export interface CausesProps {
  readonly causes: readonly ReadingCause[];
  readonly next?: ReadingNextCheck | null | undefined;
  /** Checks whose answers the causes are weighed with. */
  readonly answered?: readonly AnsweredCheck[] | undefined;
}

/** The checks in their order, each with its caution, then the causes, those together that cannot be told apart. */
export function Causes({ causes, next, answered = [] }: CausesProps) {
  if (causes.length === 0) return null;
  const checks = listChecks({ causes, next_check: next }, answered);
  return (
    <>
      {checks.length > 0 && (
        <Section title={translate('report.checks')} note={translate('report.checks-note')}>
          <ol className="causes">
            {checks.map((check) => (
              <li key={check}>
                {translateCheck(check)}
                <p className="step-caution">{cautionOfCheck(check)}</p>
              </li>
            ))}
          </ol>
        </Section>
      )}
      <Section title={translate('report.causes')} note={translate('report.causes-note')}>
        {answered.length > 0 && (
          <>
            <p>{translate('report.answered')}</p>
            <List
              items={answered.map((given) => (
                <>
                  {translateCheck(given.check)} <b>{translateAnswer(given)}</b>
                </>
              ))}
            />
          </>
        )}
        <ol className="causes">
          {groupCauses(causes).map((group, i) => (
            <li key={i}>{group.isUndecided ? <Undecided causes={group.causes} /> : describeCause(group.causes[0]!)}</li>
          ))}
        </ol>
      </Section>
    </>
  );
}

function Undecided({ causes }: { readonly causes: readonly ReadingCause[] }) {
  return (
    <>
      <p>{introduceGroup()}</p>
      <List items={causes.map(describeCause)} />
    </>
  );
}

function describeCause(cause: ReadingCause): ReactNode {
  const evidence = cause.evidence.map(formatEvidence).filter((words) => words !== null);
  const chance = formatProbability(cause);
  return (
    <>
      <b>{translateCause(cause)}</b>
      {chance && (
        <>
          {' '}
          <span className="note">{chance}</span>
        </>
      )}
      {cause.remedy !== undefined && <p>{translate('report.if-so', { remedy: cause.remedy })}</p>}
      {evidence.length > 0 && (
        <p className="note">{translate('report.evidence-list', { evidence: evidence.join('; ') })}</p>
      )}
    </>
  );
}
