/** The newest result of the pipeline, and whether it is of the document as it is now. */
import { useShop } from '../shop.ts';
import type { BuildResult } from '../state/contract.ts';

export function useBuilt(): { built: BuildResult | undefined; fresh: boolean } {
  const build = useShop((s) => s.build);
  const serial = useShop((s) => s.serial);
  const built = build.status === 'ready' ? build.value : build.status === 'working' ? build.last : undefined;
  return { built, fresh: build.status === 'ready' && build.serial === serial };
}
