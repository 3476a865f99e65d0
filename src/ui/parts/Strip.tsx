/** What is ready and what is not, from bench to program. */
import { actions, useShop } from '../shop.ts';

export function Strip() {
  const steps = useShop((s) => s.steps);
  return (
    <nav style={{ gridArea: 'strip' }} aria-label="Readiness">
      {steps.map((step) => (
        <button type="button" key={step.name} onClick={() => actions.select(step.leadsTo)}>
          {step.name} {step.todo || step.summary}
        </button>
      ))}
    </nav>
  );
}
