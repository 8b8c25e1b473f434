/** A way to another screen that looks like what it is: the next thing to do. */
import { addressOf, type ScreenName } from '../../frame/screens.ts';
import '../../parts/parts.css';

export interface GoToProps {
  readonly screen: ScreenName;
  readonly children: string;
}

export function GoTo({ screen, children }: GoToProps) {
  return (
    <a className="part-button part-button-main turns-go" href={addressOf(screen)}>
      {children}
    </a>
  );
}
