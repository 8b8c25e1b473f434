/** A check in words, where it sends hands, and what it can show. */
import { hazardsOfCheck, listAnswers, wordCheck } from '../../../../../report/wording/checks.ts';
import { Button } from '../../../parts/button.tsx';
import { isWorded, say } from '../../../wording/say.ts';

export interface CheckQuestionProps {
  readonly check: string;
  readonly onAnswer: (answer: string) => void;
}

export function CheckQuestion({ check, onAnswer }: CheckQuestionProps) {
  const places = hazardsOfCheck(check)
    .map((hazard) => `reading.hazard-${hazard}`)
    .filter(isWorded)
    .map((key) => say(key));
  return (
    <div className="reading-question">
      <p>{wordCheck(check)}</p>
      {places.length > 0 && (
        <p className="reading-hazard">{say('reading.check-hazard', { places: places.join(', ') })}</p>
      )}
      <fieldset className="reading-answers">
        <legend>{say('reading.check-answer')}</legend>
        {listAnswers(check).map(({ answer, words }) => (
          <Button key={answer} onClick={() => onAnswer(answer)}>
            {words}
          </Button>
        ))}
      </fieldset>
    </div>
  );
}
