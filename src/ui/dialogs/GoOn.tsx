/** After a stop: the program that starts at a pass, made and proven when it is asked for. */
import { type FormEvent, useEffect, useRef, useState } from 'react';
import { services } from '../shop.ts';
import type { Raw } from '../state/contract.ts';
import type { Work } from '../state/workshop.ts';
import { lastRestart, restartNumber } from './restart-number.ts';
import { save } from './save.ts';

/** @param raw a document whose programs are proven @param texts its programs */
export function GoOn({ raw, texts }: { raw: Raw; texts: readonly string[] }) {
  const [pass, setPass] = useState('');
  const [said, setSaid] = useState('');
  const [wrong, setWrong] = useState(false);
  const [making, setMaking] = useState(false);
  const work = useRef<Work<{ file: string; text: string }>>(undefined);
  useEffect(() => () => work.current?.stop(), []);
  const make = (event: FormEvent) => {
    event.preventDefault();
    const typed = restartNumber(pass, lastRestart(texts));
    if ('refused' in typed) {
      setSaid(typed.refused);
      setWrong(true);
      return;
    }
    const mine = services.restart(raw, typed.pass);
    work.current = mine;
    setMaking(true);
    setSaid('The program is being made and proven on the wood as it then is …');
    mine.result
      .then(
        ({ file, text }) => {
          save(file, text);
          setSaid(`${file} is proven. Run it from its top, then the programs after it.`);
        },
        (fault: unknown) => setSaid(fault instanceof Error ? fault.message : String(fault)),
      )
      .finally(() => setMaking(false));
  };
  return (
    <form className="dialog-row" onSubmit={make} noValidate>
      <label>
        After a stop, go on from restart{' '}
        <input
          type="text"
          inputMode="numeric"
          size={6}
          value={pass}
          aria-invalid={wrong ? true : undefined}
          onChange={(e) => {
            setPass(e.target.value);
            // What was said of another number; what is being made is still told.
            if (!making) setSaid('');
            setWrong(false);
          }}
          title="The number in the last pass comment"
        />
      </label>
      <button type="submit" disabled={making}>
        Take the program from there
      </button>
      <span role="status">{said}</span>
    </form>
  );
}
