/** Entries in short, newest first, and the fields that narrow them down. */
import type { LogbookList, LogbookOverview } from '../../../../contract/logbook.ts';
import { ListChoice } from '../../parts/choice.tsx';
import { Field } from '../../parts/field.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { say } from '../../wording/say.ts';
import { addressOfPlace } from './logbook-place.ts';
import { wordMoment } from '../../wording/moment.ts';
import type { QueryForm } from './query-form.ts';

export interface SearchProps {
  readonly form: QueryForm;
  readonly overview: LogbookOverview;
  readonly onChange: (form: QueryForm) => void;
}

export function Search({ form, overview, onChange }: SearchProps) {
  const set = (change: Partial<QueryForm>) => onChange({ ...form, ...change });
  const names = (all: readonly string[], every: string) => [
    { value: '', label: every },
    ...all.map((name) => ({ value: name, label: name })),
  ];
  return (
    <search className="logbook-search">
      <Field label={say('logbook.words')} value={form.text} onChange={(text) => set({ text })} />
      <ListChoice
        label={say('logbook.house')}
        options={names(overview.houses, say('logbook.every-house'))}
        value={form.house}
        onChange={(house) => set({ house })}
      />
      <ListChoice
        label={say('logbook.print')}
        options={names(overview.prints, say('logbook.every-print'))}
        value={form.print}
        onChange={(print) => set({ print })}
      />
      <ListChoice
        label={say('logbook.verdict')}
        options={[
          { value: '', label: say('logbook.every-verdict') },
          ...(['within', 'outside', 'undecided'] as const).map((value) => ({ value, label: say(`parts.${value}`) })),
        ]}
        value={form.verdict}
        onChange={(verdict) => set({ verdict })}
      />
      <Day label={say('logbook.from')} value={form.from} onChange={(from) => set({ from })} />
      <Day label={say('logbook.to')} value={form.to} onChange={(to) => set({ to })} />
      <label className="logbook-check">
        <input
          type="checkbox"
          checked={form.withReplaced}
          onChange={(event) => set({ withReplaced: event.target.checked })}
        />
        {say('logbook.with-replaced')}
      </label>
    </search>
  );
}

interface DayProps {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
}

function Day({ label, value, onChange }: DayProps) {
  return (
    <label className="part-field">
      <span className="part-field-label">{label}</span>
      <input type="date" value={value} onChange={(event) => onChange(event.target.value)} />
    </label>
  );
}

export function EntryList({ list }: { readonly list: LogbookList }) {
  const dates = new Map(list.entries.map(({ id, saved_at }) => [id, saved_at]));
  return (
    <ol className="logbook-list">
      {list.entries.map(({ id, saved_at, sentence, verdict, house, print, reel, operator, follows }) => (
        <li key={id}>
          <a href={addressOfPlace({ view: 'entry', id })} className="logbook-line">
            <span className="logbook-when">{wordMoment(saved_at)}</span>
            <span className="logbook-what">
              <strong>{sentence}</strong>
              <span className="logbook-about">
                {[house, print, reel && say('logbook.reel-named', { reel }), operator].filter(Boolean).join(' · ')}
              </span>
              {follows !== null && (
                <span className="logbook-about">
                  {dates.has(follows)
                    ? say('logbook.after-of', { when: wordMoment(dates.get(follows)!) })
                    : say('logbook.after-other')}
                </span>
              )}
            </span>
            <span className="logbook-verdict">
              {verdict === null ? say('logbook.refused') : <VerdictMark verdict={verdict} />}
            </span>
          </a>
        </li>
      ))}
    </ol>
  );
}
