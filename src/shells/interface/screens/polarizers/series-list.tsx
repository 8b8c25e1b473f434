/** The series, photograph by photograph: its turn, its ghost once it is known, its place in the order. */
import { useEffect, useId, useState } from 'react';
import type { Polarizers, SeriesPhotograph } from '../../../../contract/polarizers.ts';
import type { SeriesShot } from '../../../../record/null-search.ts';
import { formatGiven } from '../../../../wording/numbers.ts';
import { formatLeakWithDoubt } from '../../../../wording/polarizers.ts';
import type { Host } from '../../host/host.ts';
import { Button } from '../../parts/button.tsx';
import { translate } from '../../../../wording/translate.ts';
import { readTurn } from './next-step.ts';

export interface SeriesListProps {
  readonly host: Host;
  readonly polarizers: Polarizers;
}

export function SeriesList({ host, polarizers: { series, setting, null_search } }: SeriesListProps) {
  const isCounted = setting.counted === 'turns';
  return (
    <table className="polarizers-series">
      <thead>
        <tr>
          <th scope="col" className="polarizers-n">
            {translate('polarizers.order')}
          </th>
          <th scope="col">{translate('polarizers.photograph')}</th>
          {isCounted && <th scope="col">{translate('polarizers.turn')}</th>}
          <th scope="col" className="polarizers-n">
            {translate('polarizers.ghost')}
          </th>
          <td />
        </tr>
      </thead>
      <tbody>
        {series.map((photograph, index) => (
          <tr key={photograph.id}>
            <td className="polarizers-n">{index + 1}</td>
            <th scope="row" className="polarizers-name">
              {photograph.name}
              {index === series.length - 1 && <span className="polarizers-last"> {translate('polarizers.last')}</span>}
            </th>
            {isCounted && (
              <td>
                <TurnField host={host} photograph={photograph} number={index + 1} />
              </td>
            )}
            <td className="polarizers-n">{formatGhost(null_search?.shots[index])}</td>
            <td className="polarizers-tools">
              <Tools host={host} photograph={photograph} index={index} count={series.length} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function formatGhost(shot: SeriesShot | undefined): string {
  return shot ? formatLeakWithDoubt(shot.leak_pct) : translate('polarizers.not-yet');
}

interface TurnFieldProps {
  readonly host: Host;
  readonly photograph: SeriesPhotograph;
  readonly number: number;
}

function TurnField({ host, photograph: { id, turn_deg }, number }: TurnFieldProps) {
  const kept = turn_deg === null ? '' : formatGiven(turn_deg);
  const [text, setText] = useState(kept);
  const problemId = useId();
  // What was kept comes back as it is written; while somebody types, their text stands.
  useEffect(() => {
    setText((typed) => (readTurn(typed) === turn_deg ? typed : kept));
  }, [kept, turn_deg]);
  const read = readTurn(text);
  const keep = () => {
    if (read !== 'wrong' && read !== turn_deg) void host.call('polarizers.set-turn', { id, turn_deg: read });
  };
  return (
    <span className="polarizers-turn">
      <input
        type="text"
        inputMode="text"
        autoComplete="off"
        spellCheck={false}
        value={text}
        aria-label={translate('polarizers.turn-of', { number })}
        aria-invalid={read === 'wrong' ? true : undefined}
        aria-describedby={read === 'wrong' ? problemId : undefined}
        onChange={({ currentTarget }) => setText(currentTarget.value)}
        onBlur={keep}
        onKeyDown={({ key }) => {
          if (key === 'Enter') keep();
        }}
      />
      <span aria-hidden="true">°</span>
      {read === 'wrong' && (
        <span className="part-field-problem" id={problemId}>
          {translate('polarizers.turn-wrong')}
        </span>
      )}
    </span>
  );
}

interface ToolsProps {
  readonly host: Host;
  readonly photograph: SeriesPhotograph;
  readonly index: number;
  readonly count: number;
}

function Tools({ host, photograph: { id, name }, index, count }: ToolsProps) {
  const move = (by: -1 | 1) => void host.call('polarizers.move', { id, by });
  return (
    <>
      {index > 0 && (
        <Button kind="quiet" onClick={() => move(-1)} name={translate('polarizers.earlier-what', { name })}>
          {translate('polarizers.earlier')}
        </Button>
      )}
      {index < count - 1 && (
        <Button kind="quiet" onClick={() => move(1)} name={translate('polarizers.later-what', { name })}>
          {translate('polarizers.later')}
        </Button>
      )}
      <Button
        kind="quiet"
        onClick={() => void host.call('polarizers.remove', { id })}
        name={translate('polarizers.remove-what', { name })}
      >
        {translate('polarizers.remove')}
      </Button>
    </>
  );
}
