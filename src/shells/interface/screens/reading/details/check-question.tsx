/** A check in words, where it sends hands, and what it can show. */
import { hazardsOfCheck, listAnswers, translateCheck } from '../../../../../wording/checks.ts';
import { Button } from '../../../parts/button.tsx';
import { isMessageKey, translate } from '../../../../../wording/translate.ts';

export interface CheckQuestionProps {
  readonly check: string;
  readonly onAnswer: (answer: string) => void;
}

export function CheckQuestion({ check, onAnswer }: CheckQuestionProps) {
  const places = hazardsOfCheck(check)
    .map((hazard) => `reading.hazard-${hazard}`)
    .filter(isMessageKey)
    .map((key) => translate(key));
  return (
    <div className="reading-question">
      <p>{translateCheck(check)}</p>
      {places.length > 0 && (
        <p className="reading-hazard">{translate('reading.check-hazard', { places: places.join(', ') })}</p>
      )}
      <fieldset className="reading-answers">
        <legend>{translate('reading.check-answer')}</legend>
        {listAnswers(check).map(({ answer, words }) => (
          <Button key={answer} onClick={() => onAnswer(answer)}>
            {words}
          </Button>
        ))}
      </fieldset>
    </div>
  );
}
