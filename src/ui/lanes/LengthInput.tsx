/** A length typed by hand: decimals, fractions and a unit of its own are understood. */
import { type Ref, useState } from 'react';
import { lengthNumber, typedLength } from '../measure.ts';
import { useShop } from '../shop.ts';

export function LengthInput(props: {
  label: string;
  /** mm */
  value: number;
  onTyped: (mm: number) => void;
  sign?: string;
  inputRef?: Ref<HTMLInputElement>;
}) {
  const shown = useShop((s) => s.shownUnits);
  const [text, setText] = useState<string>();
  const done = () => {
    const mm = text === undefined ? undefined : typedLength(text, shown);
    setText(undefined);
    if (mm !== undefined && mm !== props.value) props.onTyped(mm);
  };
  return (
    <label className="typed">
      <span>{props.label}</span>
      <input
        ref={props.inputRef}
        type="text"
        inputMode="decimal"
        size={6}
        value={text ?? `${props.sign ?? ''}${lengthNumber(props.value, shown)}`}
        onFocus={(e) => {
          setText(lengthNumber(props.value, shown));
          const input = e.currentTarget;
          requestAnimationFrame(() => input.select());
        }}
        onChange={(e) => setText(e.target.value)}
        onBlur={done}
        onKeyDown={(e) => {
          e.stopPropagation();
          if (e.key === 'Enter') e.currentTarget.blur();
          if (e.key === 'Escape') {
            setText(undefined);
            e.currentTarget.blur();
          }
        }}
      />
    </label>
  );
}
