/** Light or dark: as chosen, kept for the next visit, or as the system has it. */
import { useEffect } from 'react';
import { actions, useShop } from '../shop.ts';
import type { Workshop } from '../state/contract.ts';

type Theme = Workshop['theme'];
const KEPT = 'cavetto-light';

export const nextTheme = (theme: Theme): Theme =>
  theme === 'system' ? 'light' : theme === 'light' ? 'dark' : 'system';

export function useTheme(): void {
  const theme = useShop((s) => s.theme);
  useEffect(() => {
    const kept = localStorage.getItem(KEPT);
    if (kept === 'light' || kept === 'dark') actions.set({ theme: kept });
  }, []);
  useEffect(() => {
    const system = matchMedia('(prefers-color-scheme: dark)');
    const apply = () => {
      document.documentElement.dataset.theme = theme === 'system' ? (system.matches ? 'dark' : 'light') : theme;
    };
    apply();
    if (theme === 'system') localStorage.removeItem(KEPT);
    else localStorage.setItem(KEPT, theme);
    system.addEventListener('change', apply);
    return () => system.removeEventListener('change', apply);
  }, [theme]);
}
