/** Which dialog is open. One at a time. */
import { useSyncExternalStore } from 'react';

export type DialogName = 'drawer' | 'take-away' | 'keys' | 'link' | 'outline' | 'line';

let open: DialogName | undefined;
const listeners = new Set<() => void>();

export function openDialog(name: DialogName | undefined): void {
  open = name;
  for (const listener of listeners) listener();
}

export const useOpenDialog = (): DialogName | undefined =>
  useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => open,
  );
