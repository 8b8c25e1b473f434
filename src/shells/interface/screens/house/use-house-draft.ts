/**
 * The House while it is edited: saved as soon as it is valid and the hand rests, kept by the browser while it is not, so
 * that a reload loses nothing.
 */
import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { Failure } from '../../../../contract/failures.ts';
import type { House } from '../../../../record/house.ts';
import type { Host } from '../../host/host.ts';
import { BLANK_DRAFT, checkDraft, type CheckedDraft, type Draft, draftOf } from './house-draft.ts';

export interface HouseEditing {
  /** Null where there is no House and nobody has begun one. */
  readonly draft: Draft | null;
  readonly checked: CheckedDraft | null;
  readonly state: 'saved' | 'saving' | 'unsaved';
  /** Why the shell did not keep it. */
  readonly failure: Failure | null;
  edit(change: (draft: Draft) => Draft): void;
  begin(draft?: Draft): void;
  /** Gives up what is not saved. */
  revert(): void;
}

const REST_MS = 450;
const KEPT_AT = 'twinplumb.house-draft';

export function useHouseDraft(host: Host, house: House | null): HouseEditing {
  const [own, setOwn] = useState<Draft | null>(readKept);
  const [isDirty, setDirty] = useState(own !== null);
  const [isSaving, setSaving] = useState(false);
  const [failure, setFailure] = useState<Failure | null>(null);
  const shown = useMemo(() => {
    if (own && (isDirty || isSame(own, house))) return own;
    return house && draftOf(house);
  }, [own, isDirty, house]);
  const checked = useMemo(() => shown && checkDraft(shown.tree), [shown]);

  const save = useRef(() => {});
  save.current = () => {
    if (!own || !isDirty || !checked?.house) return;
    setSaving(true);
    void host.call('house.set', { house: checked.house }).then((outcome) => {
      setSaving(false);
      setFailure(outcome.ok ? null : outcome.failure);
    });
  };
  // It counts as saved when the shell shows the same House: only then is the kept draft let go.
  useEffect(() => {
    if (!own || !isDirty || !isSame(own, house)) return;
    writeKept(null);
    setDirty(false);
  }, [own, isDirty, house]);
  useEffect(() => {
    if (!own || !isDirty) return undefined;
    writeKept(own);
    const timer = setTimeout(() => save.current(), REST_MS);
    return () => clearTimeout(timer);
  }, [own, isDirty]);
  useEffect(() => () => save.current(), []);

  const edit = useCallback(
    (change: (draft: Draft) => Draft) => {
      if (!shown) return;
      setOwn(change(shown));
      setDirty(true);
    },
    [shown],
  );
  const begin = useCallback((draft: Draft = BLANK_DRAFT) => {
    setOwn(draft);
    setDirty(true);
  }, []);
  const revert = useCallback(() => {
    writeKept(null);
    setOwn(null);
    setDirty(false);
    setFailure(null);
  }, []);
  return {
    draft: shown,
    checked,
    state: isSaving ? 'saving' : isDirty ? 'unsaved' : 'saved',
    failure,
    edit,
    begin,
    revert,
  };
}

/** Whether the shell's House is the one that was typed here; if so, its figures stay as they were typed. */
function isSame(own: Draft, house: House | null): boolean {
  return house !== null && JSON.stringify(checkDraft(own.tree).house) === JSON.stringify(house);
}

function readKept(): Draft | null {
  try {
    const kept = localStorage.getItem(KEPT_AT);
    return kept === null ? null : (JSON.parse(kept) as Draft);
  } catch {
    return null;
  }
}

function writeKept(draft: Draft | null): void {
  try {
    if (draft === null) localStorage.removeItem(KEPT_AT);
    else localStorage.setItem(KEPT_AT, JSON.stringify(draft));
  } catch {
    // Where the browser keeps nothing, a draft lasts until the page is closed.
  }
}
