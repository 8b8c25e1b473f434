/** What commands say: their help, what is wrong with what was typed, and the lines about what was done. */
import { openTopic } from './catalogue.ts';
import messages from './en/command.json' with { type: 'json' };
import helpMessages from './en/command-help.json' with { type: 'json' };

const help = openTopic(helpMessages);
const lines = openTopic(messages);

export type HelpKey = keyof typeof helpMessages;
export type CommandKey = keyof typeof messages;

/** Descriptions of commands and options, and the headings between them. */
export const translateHelp = help.translate;

export const translateCommand = lines.translate;
