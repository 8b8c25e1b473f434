/** What can explain the reading: the checks in their order, the causes with how likely they are, and what checks have shown. */
import type { Round } from '../../../../../contract/workspace.ts';
import type { Diagnosis, ReadingCause } from '../../../../../record/diagnosis.ts';
import {
  type CauseGroup,
  formatEvidence,
  formatProbability,
  groupCauses,
  listAnswers,
  listChecks,
  translateAnswer,
  translateCause,
  translateCheck,
} from '../../../../../wording/causes.ts';
import { cautionOfCheck } from '../../../../../wording/cautions.ts';
import { translate } from '../../../../../wording/translate.ts';
import type { Host } from '../../../host/host.ts';
import { Button } from '../../../parts/button.tsx';
import { Disclosure } from '../../../parts/dialog.tsx';
import { StepCaution } from '../../../parts/notice.tsx';

interface CausesPanelProps {
  readonly host: Host;
  readonly round: Round;
  readonly diagnosis: Diagnosis;
}

type Answer = (check: string, answer: string | null) => void;

export function CausesPanel({ host, round: { number, check_answers = [] }, diagnosis }: CausesPanelProps) {
  const { causes } = diagnosis;
  if (causes.length === 0 && check_answers.length === 0) return null;
  const answer: Answer = (check, given) =>
    void host.call('round.answer-check', { round: number, check, answer: given });
  const first = causes[0];
  const checks = listChecks(diagnosis, check_answers);
  return (
    <>
      {checks.length > 0 && (
        <section className="reading-checks">
          <h2>{translate('reading.checks')}</h2>
          <p className="reading-soft">{translate('reading.checks-order')}</p>
          <ol>
            {checks.map((check, place) => (
              <li key={check}>
                <CheckQuestion check={check} isOpen={place === 0} onAnswer={(given) => answer(check, given)} />
              </li>
            ))}
          </ol>
        </section>
      )}
      <section className="reading-causes">
        <h2>{translate('reading.causes')}</h2>
        <p className="reading-soft">{translate('reading.causes-order')}</p>
        <p className="unseen" role="status">
          {check_answers.length > 0 && first ? translate('reading.causes-now', { cause: translateCause(first) }) : ''}
        </p>
        {first ? (
          <ol>
            {groupCauses(causes).map((group) => (
              <Group key={group.causes.map(({ code }) => code).join(' ')} group={group} />
            ))}
          </ol>
        ) : (
          <p>{translate('reading.causes-none')}</p>
        )}
        {check_answers.length > 0 && <ChecksMade answers={check_answers} onAnswer={answer} />}
      </section>
    </>
  );
}

function Group({ group: { causes, isUndecided } }: { readonly group: CauseGroup<ReadingCause> }) {
  // The same fault may be there for either eye.
  const list = causes.map((cause, place) => <Cause key={`${cause.code} ${place}`} cause={cause} />);
  if (!isUndecided) return <li>{list}</li>;
  return (
    <li className="reading-one-of">
      <p>{translate('reading.one-of-these')}</p>
      <ul>
        {list.map((cause) => (
          <li key={cause.key}>{cause}</li>
        ))}
      </ul>
    </li>
  );
}

function Cause({ cause }: { readonly cause: ReadingCause }) {
  const evidence = cause.evidence.map(formatEvidence).filter((words) => words !== null);
  const chance = formatProbability(cause);
  return (
    <div className="reading-cause">
      <p className="reading-cause-name">
        <b>{translateCause(cause)}</b>
        {chance !== null && <span className="reading-chance">{chance}</span>}
      </p>
      {evidence.length > 0 && (
        <p className="reading-soft">{translate('reading.cause-evidence', { evidence: evidence.join('; ') })}</p>
      )}
      {cause.remedy !== undefined && (
        <Disclosure summary={translate('reading.cause-more')}>
          <p>{translate('reading.cause-remedy', { remedy: cause.remedy })}</p>
        </Disclosure>
      )}
    </div>
  );
}

interface ChecksMadeProps {
  readonly answers: NonNullable<Round['check_answers']>;
  readonly onAnswer: Answer;
}

function ChecksMade({ answers, onAnswer }: ChecksMadeProps) {
  return (
    <div className="reading-checks-made">
      <h3>{translate('reading.checks-made')}</h3>
      <ul>
        {answers.map(({ check, answer }) => {
          const words = translateAnswer({ check, answer });
          return (
            <li key={check}>
              <span>
                <span className="reading-soft">{translateCheck(check)}</span>{' '}
                <b>{translate('reading.check-shown', { words })}</b>
              </span>
              <Button
                kind="quiet"
                name={translate('reading.check-take-back-name', { words })}
                onClick={() => onAnswer(check, null)}
              >
                {translate('reading.check-take-back')}
              </Button>
            </li>
          );
        })}
      </ul>
    </div>
  );
}

/** A check in words, its caution beside it, and what it can show: open for the first one, folded for the rest. */

interface CheckQuestionProps {
  readonly check: string;
  readonly isOpen: boolean;
  readonly onAnswer: (answer: string) => void;
}

function CheckQuestion({ check, isOpen, onAnswer }: CheckQuestionProps) {
  const answers = (
    <fieldset className="reading-answers">
      <legend>{translate('reading.check-answer')}</legend>
      {listAnswers(check).map(({ answer, words }) => (
        <Button key={answer} onClick={() => onAnswer(answer)}>
          {words}
        </Button>
      ))}
    </fieldset>
  );
  return (
    <div className="reading-question">
      <p>{translateCheck(check)}</p>
      <StepCaution caution={cautionOfCheck(check)} />
      {isOpen ? answers : <Disclosure summary={translate('reading.check-answer')}>{answers}</Disclosure>}
    </div>
  );
}
