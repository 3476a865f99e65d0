/** One variant through the pipeline. Pure but for the threads that a shell may lend it, as `build` is. */
import { type BuildOptions, type Built, build } from '../build.ts';
import type { MadeVariant, Variant } from './line.ts';
import { silhouetteOf } from './silhouette.ts';

export interface VariantMade {
  readonly made: Omit<MadeVariant, 'seconds'>;
  /** As `make` writes them into the variant's folder, in that order. */
  readonly files: Built['files'];
}

/** @throws Stopped if onProgress asked to stop */
export async function makeVariant(variant: Variant, options: BuildOptions = {}): Promise<VariantMade> {
  const { verdict, problems, report, job, files } = await build(variant.part, options);
  const silhouette = job ? silhouetteOf(job.field) : [];
  return { made: { variant, verdict, problems, ...(report ? { report } : {}), silhouette }, files };
}
