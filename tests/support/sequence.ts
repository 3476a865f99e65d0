/** In what order test files start. */
import { relative } from 'node:path';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** Whole plans and proofs, then kernels against brute force: minutes in some files, whatever their size. */
const LONG = ['tests/pipeline/templates/', 'tests/pipeline/', 'tests/cam/', 'tests/cli/', 'tests/proof/'];

/**
 * The folders with the long files first. Without times from an earlier run the larger file starts first, and a few lines can
 * take minutes: started last they leave the other workers with nothing to do.
 */
export class LongFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const rank = ({ project, moduleId }: TestSpecification): number => {
      const at = LONG.findIndex((folder) => relative(project.config.root, moduleId).startsWith(folder));
      return at < 0 ? LONG.length : at;
    };
    // Projects stay one after the other, as their groups say.
    const group = ({ project }: TestSpecification): number => project.config.sequence.groupOrder;
    return (await super.sort(files)).sort((a, b) => group(a) - group(b) || rank(a) - rank(b));
  }
}
