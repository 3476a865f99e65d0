/** The page's dialogs, loaded when the first of them is asked for. */
import '../theme/dialogs.css';
import { Drawer } from './Drawer.tsx';
import { Keys } from './Keys.tsx';
import { Link } from './Link.tsx';
import { OutlineDialog } from './Outline.tsx';
import { TakeAway } from './TakeAway.tsx';
import type { DialogName } from './which.ts';

const ALL = { drawer: Drawer, 'take-away': TakeAway, keys: Keys, link: Link, outline: OutlineDialog };

export function Dialogs({ name }: { name: DialogName }) {
  const Shown = ALL[name];
  return <Shown />;
}
