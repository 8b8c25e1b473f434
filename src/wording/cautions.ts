/** The usual cautions where hands go. They stand wherever advice is given and never replace the equipment's manual. */

/** Always, before anything is adjusted. */
const ALWAYS = [
  'Nothing is adjusted while an audience is watching.',
  'Never look into the port, the lens or the lamp: projection light can injure the eye at a glance.',
  'The equipment’s own manual, local codes and licensed practice come before this advice.',
] as const;

/** When the advice sends hands to the projector. */
const AT_THE_PROJECTOR = [
  'The xenon lamp is under pressure hot and cold and may burst, and gives off ultraviolet: keep the lamp house closed; it is opened only by trained people in full protective gear.',
  'The igniter carries tens of kilovolts: no strike while hands are near.',
  'Lamp house, gate and lens are hot: wear gloves and let them cool.',
  'Moving film and gears catch sleeves, hair and fingers: stop the machine, or keep clear of film path and shutter.',
] as const;

/** When something has to be looked at on the screen, the port glass or another high place. */
const AT_HEIGHT = [
  'A ladder stands on firm ground, foot at a quarter of its working length, with a second person holding it.',
] as const;

/** When a polarizer in the beam is turned or taken out. */
const AT_THE_POLARIZER = [
  'A polarizer in the beam is hot: close the dowser, let it cool, turn it from the side by its edge in gloves, and open the dowser for the photograph only.',
] as const;

/** When photographs show the lit port. */
const AT_THE_LIT_PORT = [
  'Only the camera looks into the lit port, never an eye: no optical viewfinder, the camera’s own screen or a cable instead, the lamp at its lowest or a weak lamp in its place.',
] as const;

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
  return [
    ...ALWAYS,
    ...(work.atLitPort ? AT_THE_LIT_PORT : []),
    ...(work.atPolarizer ? AT_THE_POLARIZER : []),
    ...(work.atProjector ? AT_THE_PROJECTOR : []),
    ...(work.atHeight ? AT_HEIGHT : []),
  ];
}
