/** What is advised: steps with their dials, or, where no screw is to be turned, what to do instead. */
import { useEffect, useRef } from 'react';
import type { Round, TurnMade } from '../../../../contract/workspace.ts';
import { VerdictMark } from '../../../../drawings/verdict-mark.tsx';
import type { House } from '../../../../record/house.ts';
import type { MeasuredReading } from '../../../../record/reading.ts';
import type { Units } from '../../../../wording/lengths.ts';
import { listChecks, translateCheck } from '../../../../wording/causes.ts';
import { cautionOfCheck } from '../../../../wording/cautions.ts';
import { decimalsForUncertainty } from '../../../../wording/numbers.ts';
import { formatTerm, nameTerm, unitOfTerm } from '../../../../wording/terms.ts';
import { translate } from '../../../../wording/translate.ts';
import { formatIncurableTerm, formatMotion, translateIncurable } from '../../../../wording/turns.ts';
import { addressOf, type ScreenName } from '../../frame/screens.ts';
import { Button } from '../../parts/button.tsx';
import { Choice } from '../../parts/field.tsx';
import { Cautions, StepCaution } from '../../parts/notice.tsx';
import { StepCard } from './step-card.tsx';
import { listSteps, nextStep, noteSteps, type Step } from './turn-steps.ts';
import type { Standpoint } from './turn-words.ts';
import '../../parts/parts.css';
import { placeOnLine } from '../../../../drawings/scale.ts';
import { type LeftTerm, listLeftAfterTurns, listNeededMotion } from '../../../../record/judge-reading.ts';

interface AdviceProps {
  readonly reading: MeasuredReading;
  readonly round: Round;
  readonly house: House | null;
  readonly units: Units;
  readonly standpoint: Standpoint;
  readonly onStandpoint: (standpoint: Standpoint) => void;
  readonly onNote: (made: readonly TurnMade[]) => void;
  /** Undefined where the house has no adjustments to note. */
  readonly onNoteOthers: (() => void) | undefined;
}

/** Each step has its own caution beside it; all of them in full follow, so that they push no step off the screen. */
export function Advice(props: AdviceProps) {
  const { reading, round } = props;
  const content = chooseContent(props, listSteps(reading, round));
  return (
    <section className="turns-advice" aria-label={translate('turns.steps')}>
      <div className="turns-work">
        {content}
        <Outlook reading={reading} />
      </div>
      {content !== null && <Cautions cautions={reading.cautions} />}
    </section>
  );
}

function chooseContent(props: AdviceProps, steps: readonly Step[]) {
  const { reading, round } = props;
  if (steps.length > 0) return <Steps {...props} steps={steps} />;
  if (reading.advice === 'motion-only') return <MotionOnly reading={reading} />;
  if (reading.advice === 'beyond-adjustment') return <Incurable reading={reading} />;
  const checks = listChecks(reading, round.check_answers);
  return checks.length > 0 ? <ChecksFirst checks={checks} /> : null;
}

function Steps({
  round,
  house,
  units,
  standpoint,
  onStandpoint,
  onNote,
  onNoteOthers,
  steps,
}: AdviceProps & { readonly steps: readonly Step[] }) {
  const next = nextStep(steps);
  const answers = useFocusOnceDone(next === undefined);
  const open = steps.filter(({ made }) => made === null);
  return (
    <>
      <ol className="turns-steps">
        {steps.map((step, index) => (
          <StepCard
            key={step.turn.adjustment}
            step={step}
            number={index + 1}
            isNext={step === next}
            house={house}
            standpoint={standpoint}
            units={units}
            onDone={() => onNote(noteSteps(round.turns_made, [step]))}
            onUndone={() => onNote((round.turns_made ?? []).filter((made) => made !== step.made))}
          />
        ))}
      </ol>
      <div className="turns-answers" ref={answers}>
        {next === undefined ? (
          <GoTo screen="shots">{translate('turns.photograph-again')}</GoTo>
        ) : (
          <Button kind="main" onClick={() => onNote(noteSteps(round.turns_made, open))}>
            {translate('turns.made-all', { count: open.length })}
          </Button>
        )}
        {onNoteOthers && <Button onClick={onNoteOthers}>{translate('turns.made-others')}</Button>}
      </div>
      <StandpointChoice standpoint={standpoint} onChange={onStandpoint} />
    </>
  );
}

/** The button that said so is gone when all is done; the focus goes to what comes next. */
function useFocusOnceDone(isDone: boolean) {
  const ref = useRef<HTMLDivElement>(null);
  const wasDone = useRef(isDone);
  useEffect(() => {
    if (isDone && !wasDone.current) ref.current?.querySelector('a')?.focus();
    wasDone.current = isDone;
  }, [isDone]);
  return ref;
}

function StandpointChoice(props: { standpoint: Standpoint; onChange: (standpoint: Standpoint) => void }) {
  return (
    <Choice
      label={translate('turns.standpoint')}
      value={props.standpoint}
      onChange={props.onChange}
      options={(['audience', 'projector'] as const).map((value) => ({
        value,
        label: translate(`turns.from-${value}`),
      }))}
      hint={translate('turns.standpoint-hint')}
    />
  );
}

/** The checks that tell the causes apart, in their order. */
function ChecksFirst({ checks }: { readonly checks: readonly string[] }) {
  return (
    <section className="turns-checks" aria-labelledby="turns-checks">
      <h2 id="turns-checks">{translate('turns.checks')}</h2>
      <ol>
        {checks.map((code) => (
          <li key={code}>
            {translateCheck(code)}
            <StepCaution caution={cautionOfCheck(code)} />
          </li>
        ))}
      </ol>
      <GoTo screen="shots">{translate('turns.photograph-afterwards')}</GoTo>
    </section>
  );
}

function MotionOnly({ reading }: { readonly reading: MeasuredReading }) {
  return (
    <section className="turns-checks" aria-labelledby="turns-checks">
      <h2 id="turns-checks">{translate('turns.motions')}</h2>
      <ul>
        {listNeededMotion(reading).map((motion) => (
          <li key={motion.eye}>{formatMotion(motion)}</li>
        ))}
      </ul>
      <p>{translate('turns.motions-how')}</p>
      <GoTo screen="house">{translate('turns.describe-house')}</GoTo>
    </section>
  );
}

/** Predicted result after the turns, each term on a line with its limits; and what no adjustment cures. */

function Outlook({ reading }: { readonly reading: MeasuredReading }) {
  const left = listLeftAfterTurns(reading);
  const isTurned = left.some((term) => term.isTurned);
  return (
    <section className="turns-outlook" aria-labelledby="turns-outlook">
      <h2 id="turns-outlook">{translate(isTurned ? 'turns.outlook' : 'turns.as-it-is')}</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">{translate('turns.term')}</th>
            <th scope="col" className="turns-n">
              {translate('turns.now')}
            </th>
            {isTurned && (
              <th scope="col" className="turns-n">
                {translate('turns.afterwards')}
              </th>
            )}
            <th scope="col">{translate('turns.against-limit')}</th>
            <th scope="col">{translate(isTurned ? 'turns.then' : 'turns.verdict')}</th>
          </tr>
        </thead>
        <tbody>
          {left.map((term) => (
            <tr key={term.field}>
              <th scope="row">{nameTerm(term.field)}</th>
              <td className="turns-n">{formatValue(term, term.now)}</td>
              {isTurned && (
                <td className="turns-n">{term.isTurned ? formatValue(term, term.after) : translate('turns.stays')}</td>
              )}
              <td>{term.limit !== null && <LimitLine term={term} limit={term.limit} />}</td>
              <td>
                <VerdictMark verdict={isTurned ? (term.isInsideAfter ? 'within' : 'outside') : term.verdict} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function formatValue({ field, u }: LeftTerm, value: number): string {
  const unit = unitOfTerm(field);
  return `${formatTerm(field, value, Math.min(3, decimalsForUncertainty(2 * u)))}${unit === '°' ? '°' : ' %'}`;
}

/** The band is what is allowed; the filled mark stands now, the hollow one afterwards. */
function LimitLine({ term, limit }: { readonly term: LeftTerm; readonly limit: number }) {
  const [now, after] = [placeOnLine(term.now, limit), placeOnLine(term.after, limit)];
  const x = (at: number) => 6 + at * 1.88;
  return (
    <svg className="turns-line" viewBox="0 0 200 26" aria-hidden="true">
      <path className="turns-line-axis" d="M6 13H194" />
      <rect className="turns-line-band" x={x(25)} y="5" width={x(75) - x(25)} height="16" />
      <path className="turns-line-zero" d="M100 3V23" />
      {term.isTurned && <path className="turns-line-way" d={`M${x(now.at)} 13H${x(after.at)}`} />}
      <circle className="turns-line-now" cx={x(now.at)} cy="13" r="5" />
      {now.isBeyond && <path className="turns-line-beyond" d={now.at > 50 ? 'M196 7l6 6-6 6' : 'M4 7l-6 6 6 6'} />}
      {term.isTurned && <circle className="turns-line-after" cx={x(after.at)} cy="13" r="5" />}
    </svg>
  );
}

export function Incurable({ reading: { incurable } }: { readonly reading: MeasuredReading }) {
  if (incurable.length === 0) return null;
  return (
    <section className="turns-incurable" aria-labelledby="turns-incurable">
      <h2 id="turns-incurable">{translate('turns.incurable')}</h2>
      <dl>
        {incurable.map((item) => (
          <div key={item.term}>
            <dt>{formatIncurableTerm(item)}</dt>
            {item.reasons.map((reason) => (
              <dd key={reason}>{translateIncurable(reason)}</dd>
            ))}
          </div>
        ))}
      </dl>
    </section>
  );
}

/** A way to another screen that looks like what it is: the next thing to do. */

interface GoToProps {
  readonly screen: ScreenName;
  readonly children: string;
}

export function GoTo({ screen, children }: GoToProps) {
  return (
    <a className="part-button part-button-main turns-go" href={addressOf(screen)}>
      {children}
    </a>
  );
}
