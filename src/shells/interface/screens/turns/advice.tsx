/** What is advised: steps with their dials, or, where no screw is to be turned, what to do instead. */
import { useEffect, useRef } from 'react';
import type { Round, TurnMade } from '../../../../contract/workspace.ts';
import type { House } from '../../../../record/house.ts';
import type { MeasuredReading } from '../../../../record/reading.ts';
import { formatMotion } from '../../../../wording/motion.ts';
import { Button } from '../../parts/button.tsx';
import { Choice } from '../../parts/choice.tsx';
import type { Units } from '../../lengths.ts';
import { translate } from '../../../../wording/translate.ts';
import { Cautions } from '../../parts/cautions.tsx';
import { GoTo } from './go-to.tsx';
import { listMotions } from './motions.ts';
import { Incurable, Outlook } from './outlook.tsx';
import { type Standpoint, useStandpoint } from './standpoint.ts';
import { StepCard } from './step-card.tsx';
import { listSteps, nextStep, noteSteps, type Step } from './turn-steps.ts';

export interface AdviceProps {
  readonly reading: MeasuredReading;
  readonly round: Round;
  readonly house: House | null;
  readonly units: Units;
  readonly onNote: (made: readonly TurnMade[]) => void;
  /** Undefined where the house has no adjustments to note. */
  readonly onNoteOthers: (() => void) | undefined;
}

/** Cautions stand beside whatever sends hands to the machine. */
export function Advice(props: AdviceProps) {
  const { reading, round } = props;
  const content = chooseContent(props, listSteps(reading, round));
  return (
    <section className="turns-advice" aria-label={translate('turns.steps')}>
      {content !== null && <Cautions cautions={reading.cautions} />}
      <div className="turns-work">
        {content}
        <Outlook reading={reading} />
      </div>
    </section>
  );
}

function chooseContent(props: AdviceProps, steps: readonly Step[]) {
  const { reading } = props;
  if (steps.length > 0) return <Steps {...props} steps={steps} />;
  if (reading.advice === 'motion-only') return <MotionOnly reading={reading} />;
  if (reading.advice === 'beyond-adjustment') return <Incurable reading={reading} />;
  return reading.causes.length > 0 ? <ChecksFirst reading={reading} /> : null;
}

function Steps({
  round,
  house,
  units,
  onNote,
  onNoteOthers,
  steps,
}: AdviceProps & { readonly steps: readonly Step[] }) {
  const [standpoint, setStandpoint] = useStandpoint();
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
      <StandpointChoice standpoint={standpoint} onChange={setStandpoint} />
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
function ChecksFirst({ reading }: { readonly reading: MeasuredReading }) {
  return (
    <section className="turns-checks" aria-labelledby="turns-checks">
      <h2 id="turns-checks">{translate('turns.checks')}</h2>
      <ol>
        {reading.causes.map(({ code, check }) => (
          <li key={code}>{check}</li>
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
        {listMotions(reading).map((motion) => (
          <li key={motion.eye}>{formatMotion(motion)}</li>
        ))}
      </ul>
      <p>{translate('turns.motions-how')}</p>
      <GoTo screen="house">{translate('turns.describe-house')}</GoTo>
    </section>
  );
}
