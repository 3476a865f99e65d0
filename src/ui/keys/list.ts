/** Every key of the page: one list that listens and that the sheet shows. Pure. */

export type KeyName =
  | 'undo'
  | 'redo'
  | 'prove'
  | 'stop'
  | 'play'
  | 'drawer'
  | 'take-away'
  | 'link'
  | 'outline'
  | 'keys'
  | 'units'
  | 'light'
  | 'closer'
  | 'farther'
  | 'whole'
  | 'left'
  | 'right';

export interface KeyRow {
  name: KeyName;
  /** As pressed: `Ctrl Z`. */
  shown: string;
  does: string;
}

export const KEYS: readonly KeyRow[] = [
  { name: 'undo', shown: 'Ctrl Z', does: 'Undo the last step' },
  { name: 'redo', shown: 'Ctrl Shift Z', does: 'Do it again' },
  { name: 'prove', shown: 'P', does: 'Prove the part' },
  { name: 'stop', shown: 'Escape', does: 'Stop proving' },
  { name: 'play', shown: 'Space', does: 'Play the cutting, or pause it' },
  { name: 'closer', shown: '+', does: 'Look closer' },
  { name: 'farther', shown: '−', does: 'Look from farther away' },
  { name: 'whole', shown: '0', does: 'The whole blank on the ruler' },
  { name: 'left', shown: '←', does: 'Along the ruler toward the chuck' },
  { name: 'right', shown: '→', does: 'Along the ruler toward the tailstock' },
  { name: 'drawer', shown: 'O', does: 'Drawer: templates, documents, files' },
  { name: 'outline', shown: 'R', does: 'Readings or a photograph of an old part' },
  { name: 'take-away', shown: 'T', does: 'Take it away' },
  { name: 'link', shown: 'L', does: 'A link that carries the part' },
  { name: 'units', shown: 'U', does: 'Millimetres or inches' },
  { name: 'light', shown: 'N', does: 'Light, dark, or as the system has it' },
  { name: 'keys', shown: 'F1', does: 'This sheet' },
];

/** Keys that belong to what is picked on a lane; told on the sheet, heard there. */
export const LANE_KEYS: readonly { shown: string; does: string }[] = [
  { shown: '← →', does: 'The element before or after' },
  { shown: 'Alt ← →', does: 'Carry the element along the form' },
  { shown: 'Enter', does: 'Type its length' },
  { shown: 'D', does: 'Repeat it' },
  { shown: 'Delete', does: 'Take it out' },
  { shown: 'Arrows on a grip', does: 'One step; with Shift, ten' },
  { shown: 'Arrows on the Proof', does: 'Go over the surface; Enter turns the stage there' },
  { shown: '? on a slider', does: 'What it means' },
];

interface Press {
  key: string;
  ctrlKey: boolean;
  metaKey: boolean;
  shiftKey: boolean;
  altKey: boolean;
}

const PLAIN: Record<string, KeyName> = {
  p: 'prove',
  Escape: 'stop',
  ' ': 'play',
  '+': 'closer',
  '=': 'closer',
  '-': 'farther',
  '0': 'whole',
  ArrowLeft: 'left',
  ArrowRight: 'right',
  o: 'drawer',
  r: 'outline',
  t: 'take-away',
  l: 'link',
  u: 'units',
  n: 'light',
  F1: 'keys',
};

/** @returns what a press asks for; undefined where it asks for nothing of ours */
export function keyOf(press: Press): KeyName | undefined {
  const key = press.key.length === 1 ? press.key.toLowerCase() : press.key;
  if (press.altKey) return undefined;
  if (press.ctrlKey || press.metaKey)
    return key === 'z' ? (press.shiftKey ? 'redo' : 'undo') : key === 'y' ? 'redo' : undefined;
  return PLAIN[key];
}
