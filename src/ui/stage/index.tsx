/** The stage, fetched after the first paint: the drawing library is the largest piece of the page. */
import { lazy, memo, Suspense } from 'react';
import type { Ruler } from '../ruler.ts';
import '../theme/stage.css';

const Scene = lazy(() => import('./Stage.tsx'));

/** @param ruler the shared one, whose width is the stage's own @param height CSS pixels */
export const Stage = memo(function Stage({ ruler, height }: { ruler: Ruler; height: number }) {
  return (
    <Suspense fallback={<div className="stage" style={{ height }} aria-busy="true" />}>
      <Scene ruler={ruler} height={height} />
    </Suspense>
  );
});
