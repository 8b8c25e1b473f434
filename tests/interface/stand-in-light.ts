/** The Light screen's calls, answered in earnest from the photographs that lie among the shots. */
import { describeLight } from '../../src/application/light/describe-light.ts';
import { computeBudget } from '../../src/application/light/compute-budget.ts';
import { defaultChain } from '../../src/application/light/default-chain.ts';
import { EMPTY_LIGHT, type Light } from '../../src/contract/light.ts';
import type { Input, ProcedureName } from '../../src/contract/procedures.ts';
import type { Workspace } from '../../src/contract/workspace.ts';
import { translateBudget, translateEvenness } from '../../src/wording/light.ts';
import type { Staged } from './situations.ts';

type Change = (to: Partial<Workspace>) => unknown;

export function answerLight(staged: Staged, name: ProcedureName, data: unknown, change: Change): unknown {
  const { light = EMPTY_LIGHT, shots } = staged.workspace;
  const lay = (to: Partial<Light>) => change({ light: { ...light, evenness: null, ...to } });
  switch (name) {
    case 'light.set-subject':
      return lay({ subject: (data as Input<'light.set-subject'>).subject, meter: null });
    case 'light.set-meter':
      return lay({ meter: (data as Input<'light.set-meter'>).meter });
    case 'light.remove':
      return lay({ photographs: { ...light.photographs, [(data as Input<'light.remove'>).role]: null } });
    case 'light.take-shots': {
      const of = (slot: string) => shots.find((shot) => shot.slot === slot) ?? null;
      return lay({
        photographs: { ...light.photographs, 'left-lens': of('left-lens'), 'right-lens': of('right-lens') },
      });
    }
    case 'light.default-chain': {
      const { start, from_metallic_screen } = data as Input<'light.default-chain'>;
      return { ok: true, value: defaultChain({ start, readFromMetallicScreen: from_metallic_screen }) };
    }
    case 'light.compute-budget': {
      const { chain } = data as Input<'light.compute-budget'>;
      change({ light: { ...light, chain } });
      return { ok: true, value: translateBudget(computeBudget(chain, '9.9.9')) };
    }
    default:
      void measure(staged, light, change);
      return { ok: true, value: { job: 1 } };
  }
}

async function measure(staged: Staged, light: Light, change: Change): Promise<void> {
  const { photographs, meter, subject } = light;
  const source = (role: keyof Light['photographs']) => {
    const photograph = photographs[role];
    return photograph && { path: staged.photographs.get(photograph.sha256)!, name: photograph.name };
  };
  const pictures = (['left-lens', 'right-lens', 'bare'] as const).flatMap((role) => {
    const found = source(role);
    return found ? [{ ...found, role }] : [];
  });
  const measured = await describeLight({
    subject,
    pictures,
    ...(meter && {
      meter: {
        of: meter.of,
        place: meter.place,
        luminance_cd_m2: { value: meter.cd_m2, u: meter.u_cd_m2 },
        throughGlasses: meter.through_glasses,
      },
    }),
    softwareVersion: '9.9.9',
  });
  const now = staged.workspace.light ?? EMPTY_LIGHT;
  change({ light: { ...now, evenness: translateEvenness(measured) } });
}
