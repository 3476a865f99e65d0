/** The stage's colours: the page's own names for them, read from its style. */
import { useEffect, useState } from 'react';
import { Color } from 'three';
import { useShop } from '../shop.ts';

const NAMES = [
  'paper',
  'ink',
  'ink-soft',
  'hairline',
  'wood',
  'wood-light',
  'wood-deep',
  'verdigris',
  'ochre',
  'steel',
  'steel-light',
] as const;
export type Palette = Record<(typeof NAMES)[number], Color> & { dark: boolean };

function read(): Palette {
  const style = getComputedStyle(document.documentElement);
  const colours = Object.fromEntries(
    NAMES.map((name) => [name, new Color(style.getPropertyValue(`--${name}`).trim() || '#808080')]),
  );
  return { ...colours, dark: style.colorScheme.includes('dark') } as Palette;
}

/** Colours that follow the theme, however it is changed. */
export function usePalette(): Palette {
  const theme = useShop((s) => s.theme);
  const [palette, setPalette] = useState(read);
  useEffect(() => {
    const again = () => setPalette(read());
    again();
    const watch = new MutationObserver(again);
    watch.observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme', 'style', 'class'] });
    const system = matchMedia('(prefers-color-scheme: dark)');
    system.addEventListener('change', again);
    return () => {
      watch.disconnect();
      system.removeEventListener('change', again);
    };
  }, [theme]);
  return palette;
}
