/** The usual cautions where hands go. They stand wherever advice is given and never replace the equipment's manual. */
import { openTopic } from './catalogue.ts';
import { hazardsOfCheck } from './causes.ts';
import messages from './en/cautions.json' with { type: 'json' };

const { translate } = openTopic(messages);

type Short = Extract<keyof typeof messages, `short.${string}`>;
export type Caution = Exclude<keyof typeof messages, Short>;

/** Always, before anything is adjusted. */
const ALWAYS = ['audience', 'eyes', 'manual'] as const;
const AT_THE_PROJECTOR = ['lamp', 'igniter', 'heat', 'film'] as const;

export interface Work {
  /** The advice sends hands to the projector or its attachment. */
  readonly atProjector: boolean;
  /** The advice sends someone up to the screen or the port. */
  readonly atHeight: boolean;
  /** The advice has a polarizer in the beam turned. */
  readonly atPolarizer?: boolean;
  /** The camera is pointed at the port while it is lit. */
  readonly atLitPort?: boolean;
}

export function chooseCautions(work: Work): string[] {
  const chosen: Caution[] = [
    ...ALWAYS,
    ...(work.atLitPort ? (['lit-port'] as const) : []),
    ...(work.atPolarizer ? (['polarizer'] as const) : []),
    ...(work.atProjector ? AT_THE_PROJECTOR : []),
    ...(work.atHeight ? (['ladder'] as const) : []),
  ];
  return chosen.map((caution) => translate(caution));
}

/** What stands beside advice about light as well: it leads to the lamp house, which is not the operator's to open. */
export function lampCaution(): string {
  return translate('lamp-house');
}

/** Short, for the step itself: a turn at the attachment. */
export function cautionOfTurn(): string {
  return translate('short.turn');
}

/** The checks whose step needs more than its hazards say. */
const OWN_CAUTIONS: Readonly<Record<string, Short>> = {
  'turn-projector-polarizer': 'short.polarizer',
  'look-at-ports-through-glasses': 'short.beam',
  'watch-stray-while-masking': 'short.beam',
};

/** Short, for the step itself: where a check sends hands and feet. Null where it sends them nowhere. */
export function cautionOfCheck(code: string): string | null {
  const own = OWN_CAUTIONS[code];
  const parts = [...(own ? [own] : []), ...hazardsOfCheck(code).map((hazard): Short => `short.${hazard}`)];
  return parts.length === 0 ? null : parts.map((key) => translate(key)).join(' ');
}
