/** A field that is typed into: what is in it counts on Enter or on leaving it, and only if the hand changed it. */
import { type ChangeEvent, type FocusEvent, type KeyboardEvent, useRef, useState } from 'react';
import { flushSync } from 'react-dom';

/**
 * @param field.shown text while nobody types @param field.edited text that typing begins with
 * @param field.take called with what was typed; never for a field that was only passed through, whose text is a rounded one
 * @param field.leave called after Enter and Escape, with the field, so that the focus goes where the hand came from
 * @returns handlers and value for the input
 */
export function useTyped(field: {
  shown: string;
  edited?: string;
  take: (text: string) => void;
  leave: (input: HTMLInputElement) => void;
}) {
  const [text, setText] = useState<string>();
  const began = useRef('');
  const drop = useRef(false);
  return {
    value: text ?? field.shown,
    onFocus: (e: FocusEvent<HTMLInputElement>) => {
      const input = e.currentTarget;
      began.current = field.edited ?? field.shown;
      drop.current = false;
      // All of it at once, so that the first letter typed stands in its place: a frame later a quick hand has written behind it.
      flushSync(() => setText(began.current));
      input.select();
      // A press of the mouse sets its caret after the focus; once more, unless the hand has typed or gone on meanwhile.
      requestAnimationFrame(() => {
        if (document.activeElement === input && input.value === began.current) input.select();
      });
    },
    onChange: (e: ChangeEvent<HTMLInputElement>) => setText(e.target.value),
    onBlur: () => {
      setText(undefined);
      if (!drop.current && text !== undefined && text !== began.current) field.take(text);
    },
    onKeyDown: (e: KeyboardEvent<HTMLInputElement>) => {
      if (e.key !== 'Enter' && e.key !== 'Escape') return;
      drop.current = e.key === 'Escape';
      e.currentTarget.blur();
      field.leave(e.currentTarget);
    },
  };
}
