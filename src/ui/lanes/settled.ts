/** A value that waits for the hand to rest: for what costs more than a frame. */
import { useEffect, useState } from 'react';

/** @param ms how long the value must stay the same @returns the last value that did */
export function useSettled<T>(value: T, ms: number): T {
  const [held, setHeld] = useState(value);
  useEffect(() => {
    const timer = setTimeout(() => setHeld(() => value), ms);
    return () => clearTimeout(timer);
  }, [value, ms]);
  return held;
}
