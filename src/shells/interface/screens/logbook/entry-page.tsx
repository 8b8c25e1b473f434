/** One entry: its sentence, its photographs and figures, what it is linked with, what was added, and what can be handed out. */
import { useState } from 'react';
import { ADDRESSES } from '../../../../contract/addresses.ts';
import type { LogbookEntry, LogbookList, Paper } from '../../../../contract/logbook.ts';
import { wordTurnAmount } from '../../../../report/wording/numbers.ts';
import type { Host } from '../../host/host.ts';
import { Button } from '../../parts/button.tsx';
import { ListChoice } from '../../parts/choice.tsx';
import { Notice } from '../../parts/notice.tsx';
import { say } from '../../wording/say.ts';
import { HandOut } from './hand-out.tsx';
import { Figures } from './figures.tsx';
import { addressOfPlace } from './logbook-place.ts';
import { wordMoment } from '../../wording/moment.ts';
import { NoteForm } from './note-form.tsx';
import { EntryPhotographs } from './photographs.tsx';
import { useAnswer } from './use-answer.ts';

export interface EntryPageProps {
  readonly host: Host;
  readonly id: string;
  /** Changes when something may have been kept meanwhile. */
  readonly version: string;
  readonly paper: Paper;
  readonly onPaper: (paper: Paper) => void;
  readonly onExport: (id: string) => void;
}

export function EntryPage({ host, id, version, paper, onPaper, onExport }: EntryPageProps) {
  const { value: found, failure, again } = useAnswer(host, 'logbook.show', { id }, version);
  const { value: list } = useAnswer(host, 'logbook.list', {}, version);
  if (failure && !found) return <Notice kind="problem" message={failure.message} remedy={failure.remedy} />;
  if (!found) return <p role="status">{say('logbook.opening')}</p>;
  const { entry, additions } = found;
  const { reading } = entry;
  return (
    <article className="logbook-entry">
      <header className="logbook-head">
        <h1>{reading.outcome === 'measured' ? reading.sentence : reading.refusal.message}</h1>
        <p className="logbook-about">
          {[wordMoment(entry.saved_at), entry.house?.name, entry.print].filter(Boolean).join(' · ')}
        </p>
      </header>
      {found.replaced_by.length > 0 && (
        <Notice kind="note" message={say('logbook.was-corrected')}>
          {found.replaced_by.map((other) => (
            <a key={other} href={addressOfPlace({ view: 'entry', id: other })}>
              {say('logbook.see-correction')}
            </a>
          ))}
        </Notice>
      )}
      <ComparedWith found={found} others={list?.entries ?? []} />
      <EntryPhotographs shots={entry.shots} />
      <div className="logbook-halves">
        <section>
          <h2>{say('logbook.figures')}</h2>
          {reading.outcome === 'measured' ? <Figures reading={reading} /> : <p>{reading.refusal.remedy}</p>}
        </section>
        <section>
          <h2>{say('logbook.facts')}</h2>
          <Facts found={found} />
        </section>
      </div>
      <section>
        <h2>{say('logbook.added')}</h2>
        <ul className="logbook-additions">
          {additions.map(({ id: own, addition }) => (
            <li key={own}>
              <p className="logbook-about">
                {[wordMoment(addition.saved_at), addition.by].filter(Boolean).join(' · ')}
              </p>
              {addition.note && <p>{addition.note}</p>}
              {addition.photographs.map(({ sha256, name }) => (
                <img key={sha256} src={ADDRESSES.logbook.photograph(sha256, 600)} alt={name} loading="lazy" />
              ))}
            </li>
          ))}
        </ul>
        <NoteForm host={host} entry={id} onAdded={again} />
      </section>
      <HandOut
        host={host}
        paper={paper}
        onPaper={onPaper}
        orders={[
          { label: say('logbook.report-pdf'), address: ADDRESSES.logbook.entry(id, 'report.pdf', paper) },
          { label: say('logbook.report-html'), address: ADDRESSES.logbook.entry(id, 'report.html', paper) },
          { label: say('logbook.entry-json'), address: ADDRESSES.logbook.entry(id, 'entry.json') },
        ]}
      >
        <div className="logbook-row">
          <Button onClick={() => onExport(id)}>{say('logbook.export')}</Button>
          <span className="logbook-about">{say('logbook.export-what')}</span>
        </div>
      </HandOut>
    </article>
  );
}

interface ComparedWithProps {
  readonly found: LogbookEntry;
  readonly others: LogbookList['entries'];
}

function ComparedWith({ found, others }: ComparedWithProps) {
  const { id, entry } = found;
  const { follows } = entry;
  const choices = others.filter((other) => other.id !== id && other.outcome === 'measured');
  const [chosen, setChosen] = useState('');
  if (entry.reading.outcome !== 'measured' || choices.length === 0) return null;
  const before = chosen || follows || choices[0]!.id;
  return (
    <div className="logbook-compare">
      <ListChoice
        label={say('logbook.compare-with')}
        options={choices.map((other) => ({
          value: other.id,
          label: `${wordMoment(other.saved_at)}: ${other.sentence}${other.id === follows ? ` (${say('logbook.it-follows')})` : ''}`,
        }))}
        value={before}
        onChange={setChosen}
      />
      <Button
        kind="main"
        onClick={() => {
          location.hash = addressOfPlace({ view: 'pair', before, after: id });
        }}
      >
        {say('logbook.compare')}
      </Button>
    </div>
  );
}

function Facts({ found: { id, entry, followed_by } }: { readonly found: LogbookEntry }) {
  const facts: readonly (readonly [string, string | null | undefined])[] = [
    [say('logbook.operator'), entry.operator],
    [say('logbook.print'), entry.print],
    [say('logbook.reel'), entry.reel],
    [say('logbook.note'), entry.note],
    [
      say('logbook.turned'),
      entry.turns_made
        .map(({ adjustment, turns, direction }) =>
          say('logbook.turn', { adjustment, amount: wordTurnAmount(turns), direction }),
        )
        .join('; '),
    ],
    [say('logbook.house'), entry.house?.name ?? say('logbook.no-house')],
    [say('logbook.kept-at'), `${entry.saved_at.replace('T', ' ')}${entry.zone === null ? '' : ` (${entry.zone})`}`],
    [say('logbook.version'), `${entry.software.name} ${entry.software.version}`],
    [say('logbook.correction-of'), entry.replaces?.reason],
  ];
  return (
    <dl className="logbook-facts">
      {facts.map(([name, value]) =>
        value ? (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ) : null,
      )}
      {followed_by.map((after) => (
        <div key={after}>
          <dt>{say('logbook.measured-later')}</dt>
          <dd>
            <a href={addressOfPlace({ view: 'pair', before: id, after })}>{say('logbook.see-pair')}</a>
          </dd>
        </div>
      ))}
      <div>
        <dt>{say('logbook.name-of-entry')}</dt>
        <dd>
          <code>{id}</code>
        </dd>
      </div>
    </dl>
  );
}
