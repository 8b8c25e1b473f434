/** An amount of a turn, set as a fraction; screen readers hear it as words. */
import { formatTurnAmount } from '../../../../wording/numbers.ts';
import { translate } from '../../../../wording/translate.ts';
import { splitTurns } from './turn-amount.ts';
import './amount.css';

export function TurnAmount({ turns }: { readonly turns: number }) {
  const { whole, fraction, rest } = splitTurns(turns);
  if (rest !== 0 && !fraction) return <>{formatTurnAmount(turns)}</>;
  return (
    <>
      <span className="unseen">{formatTurnAmount(turns)}</span>
      <span aria-hidden="true" className="turns-amount">
        {whole > 0 && <span>{whole}</span>}
        {fraction && (
          <span className="turns-fraction">
            <span className="turns-over">{fraction.numerator}</span>
            <span className="turns-bar">⁄</span>
            <span className="turns-under">{fraction.denominator}</span>
          </span>
        )}{' '}
        {translate('turns.turn-noun', { count: turns > 1 ? 2 : 1 })}
      </span>
    </>
  );
}
