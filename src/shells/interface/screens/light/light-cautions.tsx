/** What belongs beside everything about light: the one caution in sight, the others at a press. */
import { Disclosure } from '../../parts/disclosure.tsx';
import { Notice } from '../../parts/notice.tsx';
import { translate } from '../../../../wording/translate.ts';

export function LightCautions({ cautions }: { readonly cautions: readonly string[] }) {
  return (
    <>
      <Notice kind="caution" message={translate('light.caution')} remedy={translate('light.caution-more')} />
      {cautions.length > 0 && (
        <Disclosure summary={translate('light.cautions')}>
          <ul className="light-cautions">
            {cautions.map((caution) => (
              <li key={caution}>{caution}</li>
            ))}
          </ul>
        </Disclosure>
      )}
    </>
  );
}
