/** Sliders of what is selected; their library comes after the first paint. */
import { lazy, Suspense } from 'react';

const Panel = lazy(() => import('../sliders/Panel.tsx').then((m) => ({ default: m.Panel })));

export function Sliders() {
  return (
    <Suspense fallback={<p className="panel-wait">Sliders are coming …</p>}>
      <Panel />
    </Suspense>
  );
}
