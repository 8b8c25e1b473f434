/** The usual cautions where hands go. They stand wherever advice is given and never replace the equipment's manual. */
import { openTopic } from './catalogue.ts';
import messages from './en/cautions.json' with { type: 'json' };

const { translate } = openTopic(messages);

export type Caution = keyof typeof messages;

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
