/**
 * A simple judge of planned moves, written for tests only and sharing nothing with the planner: rays from the axis, one
 * outermost radius each, every block cut in short steps, every ray under a flat or ball end asked by its closed form.
 */
import type { Blank } from '../../src/cam/blank.ts';
import type { Job } from '../../src/cam/job.ts';
import { CUT, type Pass, RAPID } from '../../src/cam/path.ts';

export interface Verdict {
  /** Deepest the bit went below what must stay, mm. */
  gouge: number;
  gougeAt: string;
  /** Deepest bite of any step below the wood it met, mm. */
  bite: number;
  biteAt: string;
  /** Deepest that a link or rapid went into wood, mm. */
  linkInWood: number;
  linkAt: string;
  /** Deepest straight way down into wood, steeper than the ramp, mm. */
  plunge: number;
  plungeAt: string;
  time: number;
  air: number;
  /** Largest turn of one block, radians. */
  turn: number;
  /** Largest |Δr| of a rapid that also moved x or θ, mm. */
  slantedRapid: number;
  removed: number;
}

/** Straight from the section's own geometry: the nearest flat along the ray. */
function sectionAt(b: Blank, theta: number): number {
  if (b.section === 'round') return b.width / 2;
  const flats: [number, number][] = [];
  if (b.section === 'polygon') for (let k = 0; k < b.sides; k++) flats.push([(2 * Math.PI * k) / b.sides, b.width / 2]);
  else for (let k = 0; k < 4; k++) flats.push([(Math.PI * k) / 2, (k % 2 ? b.width : b.height) / 2]);
  let r = Infinity;
  for (const [normal, d] of flats) {
    const c = Math.cos(theta - normal);
    if (c > 1e-12) r = Math.min(r, d / c);
  }
  return r;
}

export class Dexels {
  readonly rows: number;
  readonly columns: number;
  readonly dx: number;
  readonly S: Float64Array;
  readonly job: Job;
  /** What must stay, asked once for every ray. */
  private readonly stay: Float64Array;

  constructor(job: Job, dx = 0.6, columns = 360) {
    this.job = job;
    const { blank, field, stubs } = job;
    this.dx = dx;
    this.columns = columns;
    this.rows = Math.floor((blank.to - blank.from) / dx) + 1;
    this.S = new Float64Array(this.rows * columns);
    this.stay = new Float64Array(this.rows * columns);
    for (let i = 0; i < this.rows; i++)
      for (let j = 0; j < columns; j++) {
        const x = blank.from + i * dx;
        const theta = (2 * Math.PI * j) / columns;
        const section = sectionAt(blank, theta);
        this.S[i * columns + j] = section;
        const kept = (end: number) => field.kept.some((k) => k.from <= end && end <= k.to);
        let stay = section;
        if (x >= 0 && x <= field.length) stay = Math.min(section, field.radius(x, theta));
        else if (x < 0 && x >= stubs.chuck.from && !kept(0)) stay = stubs.chuck.radius;
        else if (x > field.length && x <= stubs.tail.to && !kept(field.length)) stay = stubs.tail.radius;
        this.stay[i * columns + j] = stay;
      }
  }

  /** Runs passes of one bit. @param from where the bit stands before the first move; undefined: high above */
  run(passes: readonly Pass[], kind: 'flat' | 'ball', diameter: number, rampAngle_deg: number): Verdict {
    const { bench } = this.job;
    const v: Verdict = {
      gouge: 0,
      gougeAt: '',
      bite: 0,
      biteAt: '',
      linkInWood: 0,
      linkAt: '',
      plunge: 0,
      plungeAt: '',
      time: 0,
      air: 0,
      turn: 0,
      slantedRapid: 0,
      removed: 0,
    };
    const R = diameter / 2;
    const ramp = Math.tan((rampAngle_deg / 180) * Math.PI) * 1.02;
    let p: { x: number; r: number; t: number } | undefined;
    for (const pass of passes) {
      const m = pass.moves;
      for (let k = 0; k < m.count; k++) {
        const q = { x: m.x[k]!, r: m.r[k]!, t: m.theta[k]! };
        const a = p ?? { ...q };
        const where = `${pass.label} move ${k} x ${q.x.toFixed(2)} r ${q.r.toFixed(2)} θ ${((q.t / Math.PI) * 180).toFixed(1)}`;
        const dx = q.x - a.x;
        const dr = q.r - a.r;
        const dt = q.t - a.t;
        const arc = dt * Math.max(1, (a.r + q.r) / 2);
        const length = Math.hypot(dx, dr, arc);
        v.turn = Math.max(v.turn, Math.abs(dt));
        let time = Math.max(
          Math.abs(dx) / (bench.axialMax / 60),
          Math.abs(dr) / (bench.radialMax / 60),
          Math.abs(dt) / ((bench.rotary.maxSpeed / 60) * 2 * Math.PI),
        );
        if (m.kind[k] !== RAPID) time = Math.max(time, length / (m.feed[k]! / 60));
        v.time += time;
        if (m.kind[k] === RAPID && Math.hypot(dx, arc) > 1e-9) v.slantedRapid = Math.max(v.slantedRapid, Math.abs(dr));
        if (m.kind[k] !== CUT) {
          v.air += time;
          const corners = m.kind[k] === RAPID ? [0, 1, 2] : [2];
          for (const order of corners) {
            const mid = order === 0 ? { ...a, x: q.x } : order === 1 ? { ...a, t: q.t } : a;
            for (const [s, e] of [
              [a, mid],
              [mid, q],
            ] as const) {
              const n = Math.max(1, Math.ceil(Math.hypot(e.x - s.x, Math.max(1, s.r) * (e.t - s.t)) / 1));
              for (let i = 0; i <= n; i++) {
                const f = i / n;
                const deep = this.touch(kind, R, s.x + (e.x - s.x) * f, s.r + (e.r - s.r) * f, s.t + (e.t - s.t) * f);
                if (deep > v.linkInWood) {
                  v.linkInWood = deep;
                  v.linkAt = where;
                }
              }
            }
          }
        } else {
          const n = Math.max(1, Math.ceil(Math.hypot(dx, arc) / 0.3));
          const steep = -dr > ramp * Math.hypot(dx, arc) && dr < -1e-6;
          const chunk = 7;
          let taken = 0;
          let start = 0;
          for (let i = 1; i <= n; i++) {
            const f = i / n;
            const hit = this.cut(kind, R, a.x + dx * f, a.r + dr * f, a.t + dt * f);
            taken += hit.volume;
            v.removed += hit.volume;
            if (hit.bite > v.bite) {
              v.bite = hit.bite;
              v.biteAt = where;
            }
            if (hit.gouge > v.gouge) {
              v.gouge = hit.gouge;
              v.gougeAt = where;
            }
            if (steep && hit.bite > v.plunge) {
              v.plunge = hit.bite;
              v.plungeAt = where;
            }
            if (i - start === chunk || i === n) {
              if (taken === 0) v.air += (time * (i - start)) / n;
              taken = 0;
              start = i;
            }
          }
        }
        p = q;
      }
    }
    return v;
  }

  /** Every ray that a bit at (x, r, t) can meet: one at δ meets it only where tan δ ≤ R/r. */
  private each(
    R: number,
    x: number,
    r: number,
    t: number,
    see: (k: number, u: number, c: number, s: number) => void,
  ): void {
    const i0 = Math.max(0, Math.ceil((x - R - this.job.blank.from) / this.dx));
    const i1 = Math.min(this.rows - 1, Math.floor((x + R - this.job.blank.from) / this.dx));
    const da = (2 * Math.PI) / this.columns;
    const quarter = Math.min(Math.floor(this.columns / 4) - 1, Math.ceil(Math.atan2(R, Math.max(r, 0.01)) / da) + 1);
    const j0 = Math.round(t / da);
    for (let j = j0 - quarter; j <= j0 + quarter; j++) {
      const c = Math.cos(j * da - t);
      const s = Math.abs(Math.sin(j * da - t));
      const col = ((j % this.columns) + this.columns) % this.columns;
      for (let i = i0; i <= i1; i++) see(i * this.columns + col, this.job.blank.from + i * this.dx - x, c, s);
    }
  }

  private touch(kind: 'flat' | 'ball', R: number, x: number, r: number, t: number): number {
    let deep = 0;
    // A rim that only just meets a wall beside it rubs, it does not run into it.
    const rim = (R - 0.01) ** 2;
    this.each(R, x, r, t, (k, u, c, s) => {
      const d2 = u * u + (this.S[k]! * s) ** 2;
      if (d2 > rim) return;
      deep = Math.max(deep, this.S[k]! * c - r - (kind === 'ball' ? R - Math.sqrt(R * R - d2) : 0));
    });
    return deep;
  }

  private cut(kind: 'flat' | 'ball', R: number, x: number, r: number, t: number) {
    let volume = 0;
    let bite = 0;
    let gouge = 0;
    const da = (2 * Math.PI) / this.columns;
    this.each(R, x, r, t, (k, u, c, s) => {
      const S = this.S[k]!;
      if (S * c <= r) return;
      const half = Math.sqrt(Math.max(0, R * R - u * u));
      let enter: number;
      if (kind === 'flat') {
        enter = r / c;
        if (enter * s > half) return;
      } else {
        const C = r + R;
        const disc = R * R - u * u - (C * s) ** 2;
        if (disc < 0) return;
        enter = C * c - Math.sqrt(disc);
      }
      if (enter >= S) return;
      // What must stay is asked even where the cut would be a tunnel.
      gouge = Math.max(gouge, this.stay[k]! - enter);
      if (S * s > half) return;
      const d2 = u * u + (S * s) ** 2;
      const deep = S * c - r - (kind === 'ball' ? R - Math.sqrt(Math.max(0, R * R - d2)) : 0);
      bite = Math.max(bite, deep);
      volume += 0.5 * (S * S - enter * enter) * da * this.dx;
      this.S[k] = enter;
    });
    return { volume, bite, gouge };
  }

  /** Largest wood outside a radius over [x0, x1]. @returns the radius, and where */
  highest(
    x0: number,
    x1: number,
    less: (x: number, theta: number, wood: number) => number = () => 0,
  ): { most: number; at: string } {
    let most = -Infinity;
    let at = '';
    for (let i = 0; i < this.rows; i++) {
      const x = this.job.blank.from + i * this.dx;
      if (x < x0 || x > x1) continue;
      for (let j = 0; j < this.columns; j++) {
        const theta = (2 * Math.PI * j) / this.columns;
        const wood = this.S[i * this.columns + j]!;
        const h = wood - less(x, theta, wood);
        if (h > most) {
          most = h;
          at = `x ${x.toFixed(2)} θ ${((theta / Math.PI) * 180).toFixed(1)}`;
        }
      }
    }
    return { most, at };
  }
}
