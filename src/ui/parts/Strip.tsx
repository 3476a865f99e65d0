/** What is ready and what is not, from bench to program; a line under it fills as steps are done. */
import '../theme/strip.css';
import { openDialog } from '../dialogs/which.ts';
import { actions, useShop } from '../shop.ts';
import type { Step } from '../state/contract.ts';
import { toldStep } from '../state/steps.ts';

const MARKS: Record<Step['state'], string> = { done: '', attention: '·', stopped: '!', waiting: '…' };
const SAID: Record<Step['state'], string> = { done: 'done', attention: 'look', stopped: 'stopped', waiting: 'waits' };
const title = (name: string) => (name.charAt(0).toUpperCase() + name.slice(1)).replace('-', ' ');

export function Strip() {
  const steps = useShop((s) => s.steps);
  const selection = useShop((s) => s.selection);
  const told = toldStep(steps, selection);
  return (
    <div className="strip">
      <nav aria-label="Readiness, from bench to program">
        <ol>
          {steps.map((step) => (
            <li key={step.name} data-state={step.state}>
              <button
                type="button"
                title={step.todo || step.summary}
                aria-current={selection.kind === 'step' && selection.step === step.name ? 'step' : undefined}
                onClick={() => {
                  actions.select(step.leadsTo);
                  if (step.name === 'take-away') openDialog('take-away');
                  document.querySelector(`[data-lane="${title(step.name)}"]`)?.scrollIntoView({ block: 'nearest' });
                }}
              >
                <strong>
                  {title(step.name)}
                  {MARKS[step.state] ? <b aria-hidden="true">{MARKS[step.state]}</b> : null}
                  <span className="unseen">: {SAID[step.state]}</span>
                </strong>
                <span className="step-words">{step.todo || step.summary}</span>
              </button>
            </li>
          ))}
        </ol>
      </nav>
      {told ? <Told step={told} /> : null}
    </div>
  );
}

/** The whole sentence of one step, with the button that does what it says. */
function Told({ step }: { step: Step }) {
  const { mend } = step;
  return (
    <section className="strip-told" data-state={step.state} aria-label="What comes next">
      <p>
        <strong>{title(step.name)}</strong> {step.todo || step.summary}
      </p>
      {mend ? (
        <button type="button" title={mend.say} onClick={() => actions.mend(mend)}>
          Mend: {mend.say}
        </button>
      ) : step.proves ? (
        <button type="button" onClick={() => actions.prove()}>
          Prove it
        </button>
      ) : null}
    </section>
  );
}
