import { describe, expect, it } from 'vitest';
import { ADDRESSES } from '../../src/contract/addresses.ts';
import { BRIDGE_NAME, COMMANDS } from '../../src/contract/commands.ts';
import { event } from '../../src/contract/events.ts';
import { failure } from '../../src/contract/failures.ts';
import { frameHeader } from '../../src/contract/live.ts';
import { PROCEDURES, type ProcedureName } from '../../src/contract/procedures.ts';
import { DEFAULT_SETTINGS, type Workspace, workspace } from '../../src/contract/workspace.ts';
import { SHOT_SLOTS } from '../../src/record/roles.ts';

const EMPTY: Workspace = {
  revision: 0,
  house: null,
  aspect: 2.35,
  shots: [],
  rounds: [],
  settings: DEFAULT_SETTINGS,
  jobs: [],
  notices: [],
};

const names = Object.keys(PROCEDURES) as ProcedureName[];

describe('the contract', () => {
  it('refuses fields that nobody asked for, in every procedure', () => {
    expect(names.length).toBeGreaterThan(10);
    const accepting = names.filter((name) => PROCEDURES[name].input.safeParse({ surplus: 1 }).success);
    // Partial settings and a turn list are checked field by field below.
    expect(accepting).toEqual([]);
  });

  it('accepts an empty workspace, alone and as an event', () => {
    expect(workspace.parse(EMPTY)).toEqual(EMPTY);
    expect(event.parse({ type: 'workspace', workspace: EMPTY })).toEqual({ type: 'workspace', workspace: EMPTY });
  });

  it('fails with words that say what to do', () => {
    const sound = { code: 'x', message: 'Because.', remedy: 'Do that.' };
    expect(failure.safeParse(sound).success).toBe(true);
    expect(failure.safeParse({ ...sound, remedy: '' }).success).toBe(false);
  });

  it('refuses text sizes and turns that no hand makes', () => {
    expect(PROCEDURES['settings.change'].input.safeParse({ text_size_pct: 500 }).success).toBe(false);
    const note = PROCEDURES['round.note-turns'].input;
    const turn = { adjustment: 'a', direction: 'clockwise' as const, turns: 0.5 };
    expect(note.safeParse({ round: 1, turns_made: [turn] }).success).toBe(true);
    expect(note.safeParse({ round: 1, turns_made: [{ ...turn, turns: -1 }] }).success).toBe(false);
  });
});

describe('the addresses', () => {
  it('carry names and headers whole', () => {
    const name = 'left & right/1 ä.jpg';
    for (const slot of SHOT_SLOTS) {
      const url = new URL(ADDRESSES.addPhotograph({ set: 'shots', role: slot }, name), 'http://127.0.0.1');
      expect(url.pathname).toBe(`/photographs/shots/${slot}`);
      expect(url.searchParams.get('name')).toBe(name);
    }
    const header = { serial: 3, width: 1920, height: 1080, range: 'video' } as const;
    const query = new URL(ADDRESSES.frame(header), 'http://127.0.0.1').searchParams;
    const read = { ...Object.fromEntries(query), serial: 3, width: 1920, height: 1080 };
    expect(frameHeader.parse(read)).toEqual(header);
  });
});

describe('the commands', () => {
  it('have names that tell them apart', () => {
    expect(new Set(COMMANDS).size).toBe(COMMANDS.length);
    expect(COMMANDS.every((name) => /^[a-z]+(-[a-z]+)*$/.test(name))).toBe(true);
    expect(BRIDGE_NAME).toMatch(/^[a-z][A-Za-z]+$/);
  });
});
