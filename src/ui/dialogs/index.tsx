/** The page's dialogs, loaded when the first of them is asked for. */
import '../theme/dialogs.css';
import { lazy } from 'react';
import { Drawer } from './Drawer.tsx';
import { Keys } from './Keys.tsx';
import { Link } from './Link.tsx';
import { OutlineDialog } from './Outline.tsx';
import { TakeAway } from './TakeAway.tsx';
import type { DialogName } from './which.ts';

const LineDialog = lazy(() => import('../line/LineDialog.tsx').then((m) => ({ default: m.LineDialog })));

const ALL = { drawer: Drawer, 'take-away': TakeAway, keys: Keys, link: Link, outline: OutlineDialog, line: LineDialog };

export function Dialogs({ name }: { name: DialogName }) {
  const Shown = ALL[name];
  return <Shown />;
}
