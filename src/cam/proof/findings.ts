/** Collects what the proof finds: one row for each kind in each file, with the first place, the count and the worst place. */
import type { Finding, FindingCode, Severity } from '../../../shared/problems.ts';
import { degrees, wrapTurn } from '../../../shared/units.ts';

/** One occurrence. */
export interface Note {
  readonly code: FindingCode;
  readonly severity: Severity;
  readonly file: string;
  /** 1-based; 0 for the whole file. */
  readonly line: number;
  readonly x: number;
  /** Radians. */
  readonly theta: number;
  /** How bad, larger is worse; only compared within one group. */
  readonly amount: number;
  /** One plain sentence without its stop, with numbers. */
  readonly say: string;
  readonly fix: string;
  /** Occurrences with different keys are not grouped together; default the code. */
  readonly key?: string;
}

/**
 * Turns complaints about lines of a program's text into occurrences.
 * @param file of the program @param tell told each of them
 */
export const complaintsOf =
  (file: string, tell: (note: Note) => void) =>
  (code: FindingCode, line: number, message: string, fix: string, amount = 0): void =>
    // Each message is a row of its own: other things are wrong with other lines.
    tell({ code, severity: 'refuse', file, line, x: 0, theta: 0, amount, say: message, fix, key: message });

interface Group {
  first: Note;
  worst: Note;
  count: number;
  lastLine: number;
}

const order: Record<Severity, number> = { refuse: 0, warn: 1, note: 2 };
const finite = (n: number) => (Number.isFinite(n) ? n : 0);

export class Findings {
  private readonly groups = new Map<string, Group>();

  add(note: Note): void {
    const key = `${note.file}|${note.code}|${note.severity}|${note.key ?? ''}`;
    const group = this.groups.get(key);
    if (!group) {
      this.groups.set(key, { first: note, worst: note, count: 1, lastLine: note.line });
      return;
    }
    // Many places on one line are one place to whoever reads the program.
    if (note.line !== group.lastLine) group.count++;
    group.lastLine = note.line;
    if (note.amount > group.worst.amount) group.worst = note;
  }

  get refused(): boolean {
    return [...this.groups.values()].some((g) => g.first.severity === 'refuse');
  }

  /** Rows in order of severity, then as found: the line is the first one, the sentence tells the count and the worst. */
  list(): Finding[] {
    return [...this.groups.values()]
      .sort((a, b) => order[a.first.severity] - order[b.first.severity])
      .map(({ first, worst, count }) => ({
        code: first.code,
        severity: first.severity,
        file: first.file,
        line: first.line,
        x: finite(first.x),
        theta_deg: finite(degrees(wrapTurn(first.theta))),
        message:
          count === 1
            ? worst.say
            : worst.line === first.line
              ? `${worst.say}; ${count} lines, this is the worst`
              : `${first.say}; ${count} lines, the worst is line ${worst.line}: ${worst.say}`,
        fix: first.fix,
      }));
  }
}
