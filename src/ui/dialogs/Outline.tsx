/** The outline of an old part: from caliper readings, or along a photograph. */
import { useState } from 'react';
import { Dialog } from './Dialog.tsx';
import { Photograph } from './Photograph.tsx';
import { Readings } from './Readings.tsx';

export function OutlineDialog() {
  const [text, setText] = useState('');
  return (
    <Dialog title="From an old part" wide>
      <Readings text={text} onText={setText} />
      <Photograph onText={setText} />
    </Dialog>
  );
}
