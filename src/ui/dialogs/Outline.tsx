/** The outline of an old part: from caliper readings, or along a photograph. */
import { useState } from 'react';
import { Dialog } from './Dialog.tsx';
import { Photograph } from './Photograph.tsx';
import { Readings } from './Readings.tsx';

export function OutlineDialog() {
  const [text, setText] = useState('');
  const [placed, setPlaced] = useState(false);
  return (
    <Dialog title="From an old part" wide>
      <Readings
        text={text}
        placed={placed}
        onText={(typed) => {
          setText(typed);
          // A table that is begun anew counts from its own first reading.
          if (!typed.trim()) setPlaced(false);
        }}
      />
      <Photograph
        onText={(read) => {
          setText(read);
          setPlaced(true);
        }}
      />
    </Dialog>
  );
}
