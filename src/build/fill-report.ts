/** Fills the report from what the pipeline has found. */
import { degrees, TURN } from '../../shared/units.ts';
import { blankVolume } from '../cam/blank.ts';
import { boundOf, efficiency } from '../cam/bound.ts';
import { offsetsOf, wordsReport } from '../cam/control.ts';
import type { Job } from '../cam/job.ts';
import type { Price } from '../cam/price.ts';
import type { Proof } from '../cam/proof/verdict.ts';
import type { Strength } from '../cam/strength.ts';
import { type BuiltProgram, programRows } from './programs.ts';
import type { Report } from './report.ts';
import { VERSION } from './version.ts';

export interface Found {
  readonly job: Job;
  /** Of the solid, mm³. */
  readonly volume: number;
  readonly programs: readonly BuiltProgram[];
  readonly proof: Proof;
  readonly strength: Strength;
  readonly price: Price;
}

/** A millionth of a millimetre is no length: reports stay short to read and to compare. */
const tidy = (v: number): number => Number(v.toFixed(6));

export function fillReport({ job, volume, programs, proof, strength, price }: Found): Report {
  const { field, blank, bench } = job;
  const total = programs.reduce((sum, p) => sum + p.written.time.total_s, 0);
  const bound = boundOf(job).reduce((sum, b) => sum + b.bound_s, 0);
  return {
    cavetto: VERSION,
    part: {
      name: job.name,
      length: tidy(field.length),
      maxRadius: tidy(field.maxRadius),
      minRadius: tidy(field.minRadius),
      volume: tidy(volume),
    },
    blank: {
      section: blank.section,
      width: blank.width,
      height: blank.height,
      sides: blank.sides,
      from: tidy(blank.from),
      to: tidy(blank.to),
      volume: tidy(blankVolume(blank)),
    },
    words: wordsReport(job.control, offsetsOf(job)),
    limits: {
      rotaryMax_deg_min: tidy(bench.rotary.maxSpeed * degrees(TURN)),
      axialMax_mm_min: bench.axialMax,
      radialMax_mm_min: bench.radialMax,
      keepOut: job.keepOut.map((k) => ({ from: tidy(k.from), to: tidy(k.to), radius: k.radius, what: k.what })),
      safeRadius: tidy(job.safeRadius),
    },
    programs: programs.flatMap(programRows),
    proof: {
      verdict: proof.verdict,
      deepestGouge: tidy(proof.deepestGouge),
      restP99: tidy(proof.restP99),
      tolerance: proof.tolerance,
      findings: proof.findings.map((f) => ({
        code: f.code,
        severity: f.severity,
        file: f.file,
        line: f.line,
        x: tidy(f.x),
        theta_deg: tidy(f.theta_deg),
        message: f.fix ? `${f.message}; ${f.fix}` : f.message,
      })),
    },
    time: { total_s: tidy(total), bound_s: tidy(bound), efficiency: tidy(efficiency(bound, total)) },
    strength: {
      worstDeflection: tidy(strength.worstDeflection),
      atX: tidy(strength.atX),
      safetyFactor: tidy(strength.safetyFactor),
    },
    price: {
      currency: price.currency,
      material: price.material,
      machine: price.machine,
      labour: price.labour,
      unit: price.unit,
    },
  };
}
