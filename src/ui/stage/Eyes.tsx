/** How the stage is looked at: straight on along the shared ruler, or freely about the part. */
import { useThree } from '@react-three/fiber';
import { useEffect, useMemo } from 'react';
import { OrthographicCamera, PerspectiveCamera } from 'three';
import { OrbitControls } from 'three/examples/jsm/controls/OrbitControls.js';
import type { Ruler } from '../ruler.ts';
import type { Framing } from './framing.ts';

/** Far enough that nothing on a bench comes behind the eye, mm. */
const AWAY = 4000;

/** One millimetre of the ruler is one millimetre of the picture. */
export function StraightEye({ ruler, framing }: { ruler: Ruler; framing: Framing }) {
  const set = useThree((s) => s.set);
  const invalidate = useThree((s) => s.invalidate);
  const camera = useMemo(() => {
    const eye = new OrthographicCamera();
    // Marked as ours: the size of the canvas must not reshape it.
    Object.assign(eye, { manual: true });
    eye.up.set(0, 0, 1);
    eye.position.set(0, -AWAY, 0);
    eye.lookAt(0, 0, 0);
    return eye;
  }, []);
  camera.left = ruler.from;
  camera.right = ruler.to;
  camera.top = framing.top;
  camera.bottom = framing.bottom;
  camera.near = 1;
  camera.far = 2 * AWAY;
  camera.updateProjectionMatrix();
  useEffect(() => {
    set({ camera });
    invalidate();
  });
  return null;
}

/** Drag to go round, wheel to come nearer, right drag to move along. */
export function FreeEye({ ruler }: { ruler: Ruler }) {
  const set = useThree((s) => s.set);
  const invalidate = useThree((s) => s.invalidate);
  const canvas = useThree((s) => s.gl.domElement);
  const size = useThree((s) => s.size);
  const camera = useMemo(() => new PerspectiveCamera(28, 1, 1, 3 * AWAY), []);
  // Where it starts is taken from the ruler once; from then on the hand leads.
  useEffect(() => {
    const mid = (ruler.from + ruler.to) / 2;
    const away = ((ruler.to - ruler.from) / 2 / Math.tan((14 * Math.PI) / 180)) * (size.height / size.width) * 1.25;
    camera.up.set(0, 0, 1);
    camera.position.set(mid - 0.42 * away, -0.8 * away, 0.42 * away);
    const controls = new OrbitControls(camera, canvas);
    controls.target.set(mid, 0, 0);
    controls.addEventListener('change', () => invalidate());
    controls.update();
    set({ camera });
    invalidate();
    return () => controls.dispose();
  }, [camera, canvas]);
  useEffect(() => {
    camera.aspect = size.width / size.height;
    camera.updateProjectionMatrix();
    invalidate();
  }, [camera, size, invalidate]);
  return null;
}
