/** Draws the scene when the card is free: a slow card shows fewer pictures, each of them the newest, and none wait in line. */
import { useFrame, useThree } from '@react-three/fiber';
import { useMemo, useRef } from 'react';
import { cardOf, paced } from './pace.ts';

export function Paced() {
  const renderer = useThree((s) => s.gl);
  const pace = useMemo(() => paced(cardOf(renderer.getContext() as WebGL2RenderingContext)), [renderer]);
  const size = useRef('');
  // With a priority of its own it draws in place of the library, which would send every frame.
  useFrame(({ gl, scene, camera, invalidate }) => {
    const { width, height } = gl.domElement;
    // A canvas that has just changed its size is empty, and not left so.
    const now = `${width} ${height}`;
    if (!pace.free() && size.current === now) {
      invalidate();
      return;
    }
    size.current = now;
    gl.render(scene, camera);
    pace.sent();
  }, 1);
  return null;
}
