/** What the screens say. A key begins with the place that shows it: `shots.measure`. */
import { openTopic, type Values } from './catalogue.ts';
import about from './en/screens/about.json' with { type: 'json' };
import booth from './en/screens/booth.json' with { type: 'json' };
import camera from './en/screens/camera.json' with { type: 'json' };
import cautions from './en/screens/cautions.json' with { type: 'json' };
import desktop from './en/screens/desktop.json' with { type: 'json' };
import frame from './en/screens/frame.json' with { type: 'json' };
import house from './en/screens/house.json' with { type: 'json' };
import light from './en/screens/light.json' with { type: 'json' };
import logbook from './en/screens/logbook.json' with { type: 'json' };
import manual from './en/screens/manual.json' with { type: 'json' };
import parts from './en/screens/parts.json' with { type: 'json' };
import polarizers from './en/screens/polarizers.json' with { type: 'json' };
import reading from './en/screens/reading.json' with { type: 'json' };
import report from './en/screens/report.json' with { type: 'json' };
import shots from './en/screens/shots.json' with { type: 'json' };
import turns from './en/screens/turns.json' with { type: 'json' };

const messages = {
  ...about,
  ...booth,
  ...camera,
  ...cautions,
  ...desktop,
  ...frame,
  ...house,
  ...light,
  ...logbook,
  ...manual,
  ...parts,
  ...polarizers,
  ...reading,
  ...report,
  ...shots,
  ...turns,
};
const screens = openTopic(messages);

export type MessageKey = keyof typeof messages;

export function translate(key: MessageKey, values?: Values): string {
  return screens.translate(key, values);
}

/** Whether there is a message for a key that was put together at run time, from a code that came from elsewhere. */
export function isMessageKey(key: string): key is MessageKey {
  return screens.has(key);
}
