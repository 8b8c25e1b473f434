/** Entries in short, newest first, and the fields that narrow them down. */
import type { LogbookList, LogbookOverview } from '../../../../contract/logbook.ts';
import { ListChoice } from '../../parts/choice.tsx';
import { Field } from '../../parts/field.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { translate } from '../../../../wording/translate.ts';
import { addressOfPlace } from './logbook-place.ts';
import { formatDateTime } from '../../../../wording/date-time.ts';
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
      <Field label={translate('logbook.words')} value={form.text} onChange={(text) => set({ text })} />
      <ListChoice
        label={translate('logbook.house')}
        options={names(overview.houses, translate('logbook.every-house'))}
        value={form.house}
        onChange={(house) => set({ house })}
      />
      <ListChoice
        label={translate('logbook.print')}
        options={names(overview.prints, translate('logbook.every-print'))}
        value={form.print}
        onChange={(print) => set({ print })}
      />
      <ListChoice
        label={translate('logbook.verdict')}
        options={[
          { value: '', label: translate('logbook.every-verdict') },
          ...(['within', 'outside', 'undecided'] as const).map((value) => ({
            value,
            label: translate(`parts.${value}`),
          })),
        ]}
        value={form.verdict}
        onChange={(verdict) => set({ verdict })}
      />
      <Day label={translate('logbook.from')} value={form.from} onChange={(from) => set({ from })} />
      <Day label={translate('logbook.to')} value={form.to} onChange={(to) => set({ to })} />
      <label className="logbook-check">
        <input
          type="checkbox"
          checked={form.withReplaced}
          onChange={(event) => set({ withReplaced: event.target.checked })}
        />
        {translate('logbook.with-replaced')}
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
            <span className="logbook-when">{formatDateTime(saved_at)}</span>
            <span className="logbook-what">
              <strong>{sentence}</strong>
              <span className="logbook-about">
                {[house, print, reel && translate('logbook.reel-named', { reel }), operator]
                  .filter(Boolean)
                  .join(' · ')}
              </span>
              {follows !== null && (
                <span className="logbook-about">
                  {dates.has(follows)
                    ? translate('logbook.after-of', { when: formatDateTime(dates.get(follows)!) })
                    : translate('logbook.after-other')}
                </span>
              )}
            </span>
            <span className="logbook-verdict">
              {verdict === null ? translate('logbook.refused') : <VerdictMark verdict={verdict} />}
            </span>
          </a>
        </li>
      ))}
    </ol>
  );
}
