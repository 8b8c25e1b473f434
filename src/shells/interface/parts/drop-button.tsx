/** An empty place for a photograph: says what belongs there, and opens the dialog when it is pressed. */
export interface DropButtonProps {
  readonly what: string;
  readonly how: string;
  readonly onClick: () => void;
}

export function DropButton({ what, how, onClick }: DropButtonProps) {
  return (
    <button type="button" className="drop-button" onClick={onClick}>
      <span className="drop-button-what">{what}</span>
      <span className="drop-button-how">{how}</span>
    </button>
  );
}
