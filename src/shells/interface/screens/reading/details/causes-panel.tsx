/** What can explain the reading: the check to make first, the causes in their order, and what checks have shown. */
import type { Round } from '../../../../../contract/workspace.ts';
import type { Diagnosis, ReadingCause } from '../../../../../record/reading.ts';
import {
  type CauseGroup,
  formatEvidence,
  formatProbability,
  groupCauses,
  hazardsOfCheck,
  listAnswers,
  translateAnswer,
  translateCause,
  translateCheck,
} from '../../../../../wording/causes.ts';
import { isMessageKey, translate } from '../../../../../wording/translate.ts';
import type { Host } from '../../../host/host.ts';
import { Button } from '../../../parts/button.tsx';
import { Disclosure } from '../../../parts/dialog.tsx';

interface CausesPanelProps {
  readonly host: Host;
  readonly round: Round;
  readonly diagnosis: Diagnosis;
}

type Answer = (check: string, answer: string | null) => void;

export function CausesPanel({ host, round: { number, check_answers = [] }, diagnosis }: CausesPanelProps) {
  const { causes, next_check } = diagnosis;
  if (causes.length === 0 && check_answers.length === 0) return null;
  const answer: Answer = (check, given) =>
    void host.call('round.answer-check', { round: number, check, answer: given });
  const first = causes[0];
  return (
    <section className="reading-causes">
      <h2>{translate('reading.causes')}</h2>
      <p className="reading-soft">{translate('reading.causes-order')}</p>
      {next_check && (
        <div className="reading-check-first">
          <h3>{translate('reading.check-first')}</h3>
          <CheckQuestion check={next_check.code} onAnswer={(given) => answer(next_check.code, given)} />
        </div>
      )}
      <p className="unseen" role="status">
        {check_answers.length > 0 && first ? translate('reading.causes-now', { cause: translateCause(first) }) : ''}
      </p>
      {first ? (
        <ol>
          {groupCauses(causes).map((group) => (
            <Group
              key={group.causes.map(({ code }) => code).join(' ')}
              group={group}
              openCheck={(check) => check !== next_check?.code && !check_answers.some((given) => given.check === check)}
              onAnswer={answer}
            />
          ))}
        </ol>
      ) : (
        <p>{translate('reading.causes-none')}</p>
      )}
      {check_answers.length > 0 && <ChecksMade answers={check_answers} onAnswer={answer} />}
    </section>
  );
}

interface GroupProps {
  readonly group: CauseGroup<ReadingCause>;
  /** Whether a check stands open here: it is neither answered nor asked above. */
  readonly openCheck: (check: string) => boolean;
  readonly onAnswer: Answer;
}

function Group({ group: { causes, isUndecided }, openCheck, onAnswer }: GroupProps) {
  const list = causes.map((cause, place) => (
    // The same fault may be there for either eye.
    <Cause key={`${cause.code} ${place}`} cause={cause} isCheckOpen={openCheck(cause.check_code)} onAnswer={onAnswer} />
  ));
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

interface CauseProps {
  readonly cause: ReadingCause;
  readonly isCheckOpen: boolean;
  readonly onAnswer: Answer;
}

function Cause({ cause, isCheckOpen, onAnswer }: CauseProps) {
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
      <Disclosure summary={translate('reading.cause-more')}>
        {isCheckOpen ? (
          <CheckQuestion check={cause.check_code} onAnswer={(given) => onAnswer(cause.check_code, given)} />
        ) : (
          <p>{cause.check}</p>
        )}
        {cause.remedy !== undefined && <p>{translate('reading.cause-remedy', { remedy: cause.remedy })}</p>}
      </Disclosure>
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

/** A check in words, where it sends hands, and what it can show. */

interface CheckQuestionProps {
  readonly check: string;
  readonly onAnswer: (answer: string) => void;
}

function CheckQuestion({ check, onAnswer }: CheckQuestionProps) {
  const places = hazardsOfCheck(check)
    .map((hazard) => `reading.hazard-${hazard}`)
    .filter(isMessageKey)
    .map((key) => translate(key));
  return (
    <div className="reading-question">
      <p>{translateCheck(check)}</p>
      {places.length > 0 && (
        <p className="reading-hazard">{translate('reading.check-hazard', { places: places.join(', ') })}</p>
      )}
      <fieldset className="reading-answers">
        <legend>{translate('reading.check-answer')}</legend>
        {listAnswers(check).map(({ answer, words }) => (
          <Button key={answer} onClick={() => onAnswer(answer)}>
            {words}
          </Button>
        ))}
      </fieldset>
    </div>
  );
}
