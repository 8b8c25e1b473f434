/** What the round says, in one sentence, with its verdict, and from when and what it is. */
import { ADDRESSES } from '../../../../contract/addresses.ts';
import type { Round, Settings } from '../../../../contract/workspace.ts';
import type { Reading } from '../../../../record/reading.ts';
import type { Host } from '../../host/host.ts';
import { ListChoice } from '../../parts/choice.tsx';
import { SaveButtons } from '../../parts/save-buttons.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { formatLocalDateTime } from '../../../../wording/date-time.ts';
import { translate } from '../../../../wording/translate.ts';

export interface HeadProps {
  readonly host: Host;
  readonly units: Settings['units'];
  readonly round: Round;
  /** Undefined until it is there. */
  readonly reading: Reading | undefined;
  readonly rounds: readonly Round[];
  readonly onChooseRound: (number: number) => void;
}

const SHOT_WORD = { 'left-lens': 'left', 'right-lens': 'right', closing: 'closing' } as const;

/** Sentences longer than this are set smaller, so that the photographs stay in sight. */
const LONG_SENTENCE = 110;

export function Head({ host, units, round, reading, rounds, onChooseRound }: HeadProps) {
  const refusal = reading?.outcome === 'refused' ? reading.refusal : undefined;
  const sentence = refusal?.message ?? round.sentence;
  return (
    <header className="reading-head">
      <div className="reading-head-line">
        {round.verdict !== null && <VerdictMark verdict={round.verdict} />}
        {round.outcome === 'refused' && <span className="reading-refused">{translate('reading.refused')}</span>}
        {rounds.length > 1 ? (
          <ListChoice
            label={translate('reading.round')}
            options={rounds
              .toSorted((a, b) => b.number - a.number)
              .map((each) => ({
                value: String(each.number),
                label: translate('reading.round-option', { number: each.number, at: formatLocalDateTime(each.at) }),
              }))}
            value={String(round.number)}
            onChange={(value) => onChooseRound(Number(value))}
          />
        ) : (
          <span>{translate('reading.when', { number: round.number, at: formatLocalDateTime(round.at) })}</span>
        )}
        {reading?.shots.map(({ role, file }) => (
          <span key={role} className={`reading-shot reading-shot-${role}`} title={file}>
            {translate('reading.shot', { role: SHOT_WORD[role], file: nameOf(file) })}
          </span>
        ))}
        <span className="reading-files">
          <a href={ADDRESSES.report(round.number)} download>
            {translate('reading.report')}
          </a>
          <a href={ADDRESSES.reading(round.number)} download>
            {translate('reading.json')}
          </a>
          <SaveButtons
            host={host}
            kind="quiet"
            orders={[
              {
                label: translate('reading.pdf'),
                address: ADDRESSES.pdf(round.number, units === 'inch' ? 'letter' : 'a4'),
              },
            ]}
          />
        </span>
      </div>
      <div role="status">
        <h1 className={sentence.length > LONG_SENTENCE ? 'reading-long' : undefined}>{sentence}</h1>
      </div>
      {refusal && (
        <p className="reading-remedy">
          {refusal.remedy} <a href="#/shots">{translate('reading.to-shots')}</a>
        </p>
      )}
    </header>
  );
}

/** Without the folders. */
const nameOf = (file: string) => file.split(/[/\\]/).at(-1) ?? file;
