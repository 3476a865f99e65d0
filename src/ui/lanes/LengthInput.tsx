/** A length typed by hand: decimals, fractions and a unit of its own are understood. */
import { type Ref, useState } from 'react';
import { lengthNumber } from '../measure.ts';
import { useShop } from '../shop.ts';
import { typedRow } from '../sliders/units.ts';
import { useTyped } from '../use-typed.ts';

export function LengthInput(props: {
  label: string;
  /** Index of the element that it is of. */
  about: number;
  /** mm */
  value: number;
  /** What it may be, mm. */
  min: number;
  max: number;
  onTyped: (mm: number) => void;
  /** After Enter or Escape. */
  onLeave: () => void;
  sign?: string;
  inputRef?: Ref<HTMLInputElement>;
}) {
  const shown = useShop((s) => s.shownUnits);
  // What was typed and not taken is told until the next number comes.
  const [refused, setRefused] = useState<{ words: string; about: number; at: number }>();
  const told = refused?.about === props.about && refused.at === props.value ? refused.words : undefined;
  const typed = useTyped({
    shown: `${props.sign ?? ''}${lengthNumber(props.value, shown)}`,
    edited: lengthNumber(props.value, shown),
    take: (text) => {
      const limits = { unit: 'mm', step: 0.1, min: props.min, max: props.max } as const;
      const taken = typedRow(limits, text.replace(/^\s*[øØ⌀]\s*/, ''), shown);
      setRefused('refused' in taken ? { words: taken.refused, about: props.about, at: props.value } : undefined);
      if ('value' in taken) props.onTyped(taken.value);
    },
    leave: props.onLeave,
  });
  return (
    <>
      <label className="typed">
        <span>{props.label}</span>
        <input
          ref={props.inputRef}
          type="text"
          inputMode="decimal"
          size={6}
          {...typed}
          aria-invalid={told ? true : undefined}
          onKeyDown={(e) => {
            e.stopPropagation();
            typed.onKeyDown(e);
          }}
        />
      </label>
      {told ? (
        <span className="typed-told" role="alert">
          {told}; {lengthNumber(props.value, shown)} stays
        </span>
      ) : null}
    </>
  );
}
