/** A length typed by hand: decimals, fractions and a unit of its own are understood. */
import type { Ref } from 'react';
import { lengthNumber, typedLength } from '../measure.ts';
import { useShop } from '../shop.ts';
import { useTyped } from '../use-typed.ts';

export function LengthInput(props: {
  label: string;
  /** mm */
  value: number;
  onTyped: (mm: number) => void;
  /** After Enter or Escape. */
  onLeave: () => void;
  sign?: string;
  inputRef?: Ref<HTMLInputElement>;
}) {
  const shown = useShop((s) => s.shownUnits);
  const typed = useTyped({
    shown: `${props.sign ?? ''}${lengthNumber(props.value, shown)}`,
    edited: lengthNumber(props.value, shown),
    take: (text) => {
      const mm = typedLength(text.replace(/^[øØ⌀]\s*/, ''), shown);
      if (mm !== undefined) props.onTyped(mm);
    },
    leave: props.onLeave,
  });
  return (
    <label className="typed">
      <span>{props.label}</span>
      <input
        ref={props.inputRef}
        type="text"
        inputMode="decimal"
        size={6}
        {...typed}
        onKeyDown={(e) => {
          e.stopPropagation();
          typed.onKeyDown(e);
        }}
      />
    </label>
  );
}
