/** What the stand-in host does with photographs and turns of a null search; what is found is made up. */
import { createHash } from 'node:crypto';
import { EMPTY_POLARIZERS, type Polarizers } from '../../src/contract/polarizers.ts';
import type { ProcedureName } from '../../src/contract/procedures.ts';
import type { Workspace } from '../../src/contract/workspace.ts';
import { searchMadeUp } from './polarizers-situations.ts';
import type { Staged } from './situations.ts';
import type { PolarizerRole } from '../../src/record/roles.ts';

type Change = (to: Partial<Workspace>) => unknown;

export function layPhotograph(
  { workspace }: Staged,
  change: Change,
  place: PolarizerRole,
  name: string,
  bytes: Buffer,
): unknown {
  const before = workspace.polarizers ?? EMPTY_POLARIZERS;
  const id = before.count + 1;
  const photograph = { id, name, sha256: createHash('sha256').update(bytes).update(name).digest('hex') };
  const now = { ...before, count: id };
  if (place === 'reference') return change({ polarizers: { ...now, reference: photograph } });
  if (place === 'series') {
    const turn = /(-?\d+)deg/.exec(name)?.[1];
    const next = { ...photograph, turn_deg: turn === undefined ? null : Number(turn) };
    return change({ polarizers: { ...now, series: [...before.series, next], null_search: null } });
  }
  const lens = place === 'port-left' ? 'left' : 'right';
  return change({ polarizers: { ...now, ports: { ...before.ports, [lens]: photograph }, port_shots: null } });
}

export function callPolarizers(staged: Staged, change: Change, name: ProcedureName, data: Record<string, never>) {
  const before = staged.workspace.polarizers ?? EMPTY_POLARIZERS;
  const to = (change_: Partial<Polarizers>) => change({ polarizers: { ...before, ...change_ } });
  const series = (of: Polarizers['series']) => to({ series: of, null_search: null });
  switch (name) {
    case 'polarizers.change-setting':
      return to({ setting: { ...before.setting, ...data }, null_search: null });
    case 'polarizers.set-turn':
      return series(before.series.map((each) => (each.id === data.id ? { ...each, turn_deg: data.turn_deg } : each)));
    case 'polarizers.remove':
      return series(before.series.filter(({ id }) => id !== data.id));
    case 'polarizers.clear-series':
      return series([]);
    case 'polarizers.move': {
      const from = before.series.findIndex(({ id }) => id === data.id);
      const moved = [...before.series];
      moved.splice(from + data.by, 0, ...moved.splice(from, 1));
      return series(moved);
    }
    case 'polarizers.find-null': {
      // As in every host: what was laid out is answered for, with its own names.
      const search = searchMadeUp(before.setting.counted === 'steps' ? 'null-steps' : 'null-turns');
      change({ polarizers: { ...before, null_search: search } });
      return { ok: true, value: { job: 1 } };
    }
    default:
      return { ok: true, value: staged.workspace };
  }
}
