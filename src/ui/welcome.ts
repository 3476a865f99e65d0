/** What a person finds on coming in: the part they left, or the sample; either way it is proven without being asked. */
import { actions, services, shop } from './shop.ts';

/** The page is drawn and at rest before the planner takes its core, ms. */
const AT_REST = 900;

async function welcome(): Promise<void> {
  // A link brings its own part.
  if (!location.hash.startsWith('#part=')) {
    const [last] = await services.storage.list().catch(() => []);
    if (last) await actions.openStored(last.id);
  }
  setTimeout(() => {
    const { build, job } = shop.getState();
    if (build.status === 'none' && job) actions.prove();
  }, AT_REST);
}

void welcome();
