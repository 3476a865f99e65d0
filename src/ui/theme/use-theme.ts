/** Light or dark: as chosen, kept for the next visit, or as the system has it. */
import { useEffect, useSyncExternalStore } from 'react';
import { actions, useShop } from '../shop.ts';
import type { Workshop } from '../state/contract.ts';

type Theme = Workshop['theme'];
const KEPT = 'cavetto-light';

export const nextTheme = (theme: Theme): Theme =>
  theme === 'system' ? 'light' : theme === 'light' ? 'dark' : 'system';

const systemDark = () => matchMedia('(prefers-color-scheme: dark)');
function onSystem(told: () => void): () => void {
  const system = systemDark();
  system.addEventListener('change', told);
  return () => system.removeEventListener('change', told);
}

/** @returns how the page looks now, and whether the system chose it: `Dark`, `Light as the system` */
export function useThemeWords(): string {
  const theme = useShop((s) => s.theme);
  const dark = useSyncExternalStore(onSystem, () => systemDark().matches);
  if (theme === 'system') return dark ? 'Dark as the system' : 'Light as the system';
  return theme === 'dark' ? 'Dark' : 'Light';
}

export function useTheme(): void {
  const theme = useShop((s) => s.theme);
  useEffect(() => {
    const kept = localStorage.getItem(KEPT);
    if (kept === 'light' || kept === 'dark') actions.set({ theme: kept });
  }, []);
  useEffect(() => {
    const system = systemDark();
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
