/** The chain as it is written, checked while typing, and reckoned through by the program behind the page a moment later. */
import { useEffect, useRef, useState } from 'react';
import type { Light } from '../../../../contract/light.ts';
import type { RecordedBudget } from '../../../../record/light-budget.ts';
import type { Host } from '../../host/host.ts';
import { checkDraft, type DraftChain, draftOf, type DraftProblems } from './budget-draft.ts';

/** Nobody types faster than this between two figures that belong together. */
const PAUSE_MS = 250;
/** A reading to begin with: the middle of what film asks of an open gate. */
const USUAL_START = { luminance_cd_m2: { value: 55, u: 2.2 } };

export interface BudgetEditing {
  readonly draft: DraftChain | undefined;
  readonly problems: DraftProblems;
  /** Of the last draft that could be reckoned. */
  readonly budget: RecordedBudget | undefined;
  readonly edit: (change: (before: DraftChain) => DraftChain) => void;
  /** The usual chain in its place; `isMatt`: the reading was taken from a matt white surface. */
  readonly startOver: (isMatt: boolean) => void;
}

export function useBudget(host: Host, light: Light): BudgetEditing {
  const [draft, setDraft] = useState<DraftChain | undefined>(() => (light.chain ? draftOf(light.chain) : undefined));
  const [budget, setBudget] = useState<RecordedBudget>();
  const serial = useRef(0);
  const startOver = (isMatt: boolean) => {
    void host.call('light.default-chain', { start: USUAL_START, from_metallic_screen: !isMatt }).then((outcome) => {
      if (outcome.ok) setDraft(draftOf(outcome.value));
    });
  };
  useEffect(() => {
    if (draft === undefined) startOver(false);
  }, []);
  const checked = draft && checkDraft(draft);
  const asked = checked?.chain && JSON.stringify(checked.chain);
  useEffect(() => {
    if (asked === undefined) return undefined;
    const mine = ++serial.current;
    const wait = setTimeout(() => {
      void host.call('light.compute-budget', { chain: JSON.parse(asked) }).then((outcome) => {
        if (outcome.ok && serial.current === mine) setBudget(outcome.value);
      });
    }, PAUSE_MS);
    return () => clearTimeout(wait);
  }, [asked, host]);
  return {
    draft,
    problems: checked?.problems ?? new Map(),
    budget,
    edit: (change) => setDraft((before) => before && change(before)),
    startOver,
  };
}
