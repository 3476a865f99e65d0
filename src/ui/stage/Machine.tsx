/** What holds the blank: a chuck with its jaws, a cone and the body behind it. Plain solids of our own drawing. */
import { useEffect, useMemo } from 'react';
import { BoxGeometry, EdgesGeometry, LatheGeometry, Vector2 } from 'three';
import type { Blank } from '../../cam/blank.ts';
import { innerRadius } from '../../cam/blank.ts';
import type { Job } from '../../cam/job.ts';
import type { Palette } from './palette.ts';

/** Lathe geometry turns about its own y: laid along +x. */
const ALONG_X: [number, number, number] = [0, 0, -Math.PI / 2];
const SIDES = 64;

/** A turned solid along x. @param outline pairs of x and radius, ascending in x */
export function Turned({ outline, children }: { outline: readonly [number, number][]; children: React.ReactNode }) {
  const key = JSON.stringify(outline);
  const geometry = useMemo(
    () =>
      new LatheGeometry(
        (JSON.parse(key) as [number, number][]).map(([x, r]) => new Vector2(r, x)),
        SIDES,
      ),
    [key],
  );
  return (
    <mesh geometry={geometry} rotation={ALONG_X}>
      {children}
    </mesh>
  );
}

function Steel({ palette, light = false }: { palette: Palette; light?: boolean }) {
  return (
    <meshStandardMaterial color={light ? palette['steel-light'] : palette.steel} roughness={0.5} metalness={0.1} />
  );
}

/** A block with its edges drawn, as on paper. @param from, to x and radius, mm @param wide across, mm */
function Jaw(props: {
  palette: Palette;
  light?: boolean;
  from: readonly [number, number];
  to: readonly [number, number];
  wide: number;
}) {
  const { palette, light = false, wide } = props;
  const [[x0, r0], [x1, r1]] = [props.from, props.to];
  const body = useMemo(() => new BoxGeometry(x1 - x0, wide, r1 - r0), [x0, x1, r0, r1, wide]);
  const edges = useMemo(() => new EdgesGeometry(body), [body]);
  useEffect(
    () => () => {
      body.dispose();
      edges.dispose();
    },
    [body, edges],
  );
  return (
    <group position={[(x0 + x1) / 2, 0, (r0 + r1) / 2]}>
      <mesh geometry={body}>
        <Steel palette={palette} light={light} />
      </mesh>
      <lineSegments geometry={edges}>
        <lineBasicMaterial color={palette.dark ? palette.paper : palette.ink} transparent opacity={0.55} />
      </lineSegments>
    </group>
  );
}

/** Turns with the work. */
export function Chuck({ job, palette }: { job: Job; palette: Palette }) {
  const { chuck } = job.bench;
  const body = job.keepOut.find((k) => k.what === 'chuck');
  if (!body) return null;
  const jaw = Math.min(chuck.jawDepth, 0.4 * chuck.length);
  const back = body.to - jaw;
  const r = body.radius;
  const grip = gripRadius(job.blank);
  const tall = Math.max(4, r * 0.9 - grip);
  const wide = Math.max(6, 0.34 * r);
  return (
    <group>
      <Turned
        outline={[
          [body.from, 0],
          [body.from, 0.82 * r],
          [body.from + 0.1 * r, 0.82 * r],
          [body.from + 0.1 * r, r],
          [back - 0.06 * r, r],
          [back, 0.94 * r],
          [back, 0],
        ]}
      >
        <Steel palette={palette} />
      </Turned>
      {Array.from({ length: chuck.jaws }, (_, k) => {
        const theta = (2 * Math.PI * k) / chuck.jaws;
        return (
          <group key={k} rotation={[theta, 0, 0]}>
            {/* A step holds the stock, the block behind it runs in the body. */}
            <Jaw palette={palette} light from={[back, grip]} to={[back + jaw, grip + 0.45 * tall]} wide={wide} />
            <Jaw
              palette={palette}
              from={[back, grip + 0.45 * tall]}
              to={[back + 0.55 * jaw, grip + tall]}
              wide={0.86 * wide}
            />
          </group>
        );
      })}
    </group>
  );
}

const gripRadius = (blank: Blank): number => innerRadius(blank);

/** Stands still. */
export function Tailstock({ job, palette }: { job: Job; palette: Palette }) {
  if (!job.holding.tailstock) return null;
  const { tailstock } = job.bench;
  const end = job.blank.to;
  const r = tailstock.diameter / 2;
  const body = tailstock.bodyDiameter / 2;
  const from = end + tailstock.bodyFrom;
  return (
    <group>
      <Turned
        outline={[
          [end - 0.5 * r, 0],
          [end + tailstock.noseLength, r],
          [from, r],
        ]}
      >
        <Steel palette={palette} light />
      </Turned>
      <Turned
        outline={[
          [from, 0],
          [from, 0.9 * body],
          [from + 0.1 * body, body],
          [from + 120, body],
          [from + 120, 0],
        ]}
      >
        <Steel palette={palette} />
      </Turned>
    </group>
  );
}
