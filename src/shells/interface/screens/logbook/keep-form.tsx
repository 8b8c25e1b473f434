/** Keeps a round as an entry: who, which print, which reel, after which entry; the photographs and the house go with it. */
import { useState } from 'react';
import type { Failure } from '../../../../contract/failures.ts';
import type { LogbookOverview } from '../../../../contract/logbook.ts';
import type { EntrySummary } from '../../../../record/entry-summary.ts';
import type { Host } from '../../host/host.ts';
import { Button } from '../../parts/button.tsx';
import { Field, ListChoice } from '../../parts/field.tsx';
import { FailureNotice } from '../../parts/notice.tsx';
import { VerdictMark } from '../../../../drawings/verdict-mark.tsx';
import { translate } from '../../../../wording/translate.ts';
import { formatDateTime } from '../../../../wording/date-time.ts';
import type { Offer } from './logbook-place.ts';

export interface KeepFormProps {
  readonly host: Host;
  readonly offers: readonly Offer[];
  readonly overview: LogbookOverview;
  /** Entries that it may follow or correct, newest first. */
  readonly entries: readonly Pick<EntrySummary, 'id' | 'saved_at' | 'sentence'>[];
  readonly onKept: (notices: readonly Failure[]) => void;
}

export function KeepForm({ host, offers, overview, entries, onKept }: KeepFormProps) {
  const [number, setNumber] = useState(offers[0]!.round.number);
  const { round, follows: usual } = offers.find((offer) => offer.round.number === number) ?? offers[0]!;
  const [operator, setOperator] = useState(overview.last?.operator ?? '');
  const [print, setPrint] = useState(overview.last?.print ?? '');
  const [reel, setReel] = useState('');
  const [note, setNote] = useState('');
  const [chosen, setChosen] = useState<string>();
  const [corrects, setCorrects] = useState('');
  const [reason, setReason] = useState('');
  const [failure, setFailure] = useState<Failure>();
  const [isKeeping, setKeeping] = useState(false);
  const follows = chosen ?? usual ?? '';

  const keep = async () => {
    setKeeping(true);
    const outcome = await host.call('logbook.keep', {
      round: round.number,
      operator: operator || null,
      print: print || null,
      reel: reel || null,
      note: note || null,
      follows: follows || null,
      replaces: corrects ? { entry: corrects, reason } : null,
    });
    setKeeping(false);
    setFailure(outcome.ok ? undefined : outcome.failure);
    if (outcome.ok) onKept(outcome.value.notices);
  };
  const named = entries.map(({ id, saved_at, sentence }) => ({
    value: id,
    label: `${formatDateTime(saved_at)}: ${sentence}`,
  }));
  const whyNot = isKeeping
    ? translate('logbook.keeping')
    : corrects && !reason.trim()
      ? translate('logbook.reason-needed')
      : undefined;

  return (
    <section className="logbook-keep" aria-labelledby="logbook-keep-title">
      <header>
        <h2 id="logbook-keep-title">{translate('logbook.keep-title', { round: round.number })}</h2>
        <p className="logbook-keep-sentence">{round.sentence}</p>
        {round.verdict !== null && <VerdictMark verdict={round.verdict} />}
      </header>
      <div className="logbook-fields">
        {offers.length > 1 && (
          <ListChoice
            label={translate('logbook.which-round')}
            options={offers.map((offer) => ({
              value: String(offer.round.number),
              label: translate('logbook.round', { round: offer.round.number, sentence: offer.round.sentence }),
            }))}
            value={String(round.number)}
            onChange={(value) => {
              setNumber(Number(value));
              setChosen(undefined);
            }}
          />
        )}
        <Field label={translate('logbook.operator')} value={operator} onChange={setOperator} />
        <Field label={translate('logbook.print')} value={print} onChange={setPrint} />
        <Field label={translate('logbook.reel')} value={reel} onChange={setReel} />
        <ListChoice
          label={translate('logbook.follows')}
          options={[{ value: '', label: translate('logbook.follows-none') }, ...named]}
          value={follows}
          onChange={setChosen}
          hint={translate('logbook.follows-hint')}
        />
        <Field label={translate('logbook.note')} kind="long-text" value={note} onChange={setNote} />
        {entries.length > 0 && (
          <ListChoice
            label={translate('logbook.corrects')}
            options={[{ value: '', label: translate('logbook.corrects-none') }, ...named]}
            value={corrects}
            onChange={setCorrects}
          />
        )}
        {corrects !== '' && <Field label={translate('logbook.reason')} value={reason} onChange={setReason} />}
      </div>
      {failure && <FailureNotice failure={failure} />}
      <Button kind="main" onClick={() => void keep()} whyNot={whyNot}>
        {translate('logbook.keep', { round: round.number })}
      </Button>
    </section>
  );
}
