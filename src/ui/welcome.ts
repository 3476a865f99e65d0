/** What a person finds on coming in: the part they left, or the sample; either way it is proven without being asked. */
import { actions, services, shop } from './shop.ts';
import { proveUnasked } from './state/unasked.ts';

async function welcome(): Promise<void> {
  // A link brings its own part.
  if (!location.hash.startsWith('#part=')) {
    const [last] = await services.storage.list().catch(() => []);
    if (last) await actions.openStored(last.id);
  }
}

proveUnasked(shop, services.later);
void welcome();
