/** What three says to the console is passed on, but for one remark on a clock that our scene library makes and we do not. */
import { setConsoleFunction } from 'three';

/** `Clock` is deprecated since r183; @react-three/fiber 9 makes one for each canvas, and its newest release still does. */
const OF_THE_LIBRARY = /^THREE\.Clock: .*deprecated/;

setConsoleFunction((type: 'log' | 'warn' | 'error', message: string, ...more: unknown[]) => {
  if (type === 'warn' && OF_THE_LIBRARY.test(message)) return;
  console[type](message, ...more);
});
