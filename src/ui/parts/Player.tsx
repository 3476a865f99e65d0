/** Plays the cutting: the whole job as one bar of stages, and what the machine does at the playhead. */
import '../theme/player.css';
import { type KeyboardEvent, type PointerEvent, useEffect, useMemo, useRef } from 'react';
import { useStore } from 'zustand';
import { MM_PER_INCH } from '../../../shared/units.ts';
import { clockText, type Readout, readoutAt, timeOf } from '../play/readout.ts';
import { attend, type Loaded, playable, SPEEDS, session, toggle } from '../play/session.ts';
import { actions, shop, useShop } from '../shop.ts';
import { findingWords } from '../state/place-words.ts';
import { mendWords } from '../state/steps.ts';

/** Arrow keys move by this share of the job, page keys by more. */
const KEY_SHARE = 1 / 200;
const PAGE_SHARE = 1 / 20;
const grouped = (n: number) => Math.round(n).toLocaleString('en-US');

/** What to do, in one sentence, where there is nothing to play. */
function whatToDo(s: ReturnType<typeof shop.getState>): string {
  if (!s.job) {
    const mend = mendWords(s.steps) || 'First mend the part';
    return `${mend}, then prove it to see it cut: the strip above says what is wrong.`;
  }
  if (s.build.status === 'working')
    return 'The programs are being made: the cutting can be played when they are ready.';
  if (s.build.status === 'failed') return 'The programs could not be made: prove the part again.';
  if (s.build.status === 'ready' && s.build.serial === s.serial)
    return 'No program could be made of this part: the strip above says why.';
  return 'Prove the part to see it cut.';
}

function words(now: Readout, loaded: Loaded, inch: boolean): string {
  const feed = inch ? `${(now.feed / MM_PER_INCH).toFixed(1)} in/min` : `${grouped(now.feed)} mm/min`;
  return [
    now.stage,
    loaded.bits[now.bit]?.label ?? '',
    now.rapid ? 'travelling' : feed,
    now.rpm ? `spindle ${grouped(now.rpm)} rpm` : 'spindle stands',
    `rotary ${now.turns.toFixed(1)} turns/min`,
  ]
    .filter(Boolean)
    .join(' · ');
}

export function Player() {
  useEffect(attend, []);
  const build = useShop(playable);
  const todo = useShop((s) => (playable(s) ? '' : whatToDo(s)));
  const playing = useShop((s) => s.playing);
  const playAt = useShop((s) => s.playAt);
  const inch = useShop((s) => s.shownUnits === 'inch');
  const { loaded, fault, speed } = useStore(session);
  if (!build || !loaded)
    return (
      <section className="player" aria-label="The cutting, played">
        {/* Pressed while the programs are still read, it begins as soon as they are. */}
        <button type="button" className="player-play" aria-pressed={playing} disabled={!build} onClick={toggle}>
          {build && playing ? 'Pause' : 'Play'}
        </button>
        <p className="player-todo">{fault || todo || 'Reading the programs.'}</p>
      </section>
    );
  const now = readoutAt(loaded.reel, playAt ?? 0);
  return (
    <section className="player" aria-label="The cutting, played" data-at={playAt !== undefined || undefined}>
      <button type="button" className="player-play" aria-pressed={playing} onClick={toggle}>
        {playing ? 'Pause' : 'Play'}
      </button>
      <span className="player-time">
        {clockText(loaded.clock(playAt ?? 0))} <small>of {clockText(loaded.clock(loaded.total_s))}</small>
      </span>
      <Scrubber loaded={loaded} at={playAt ?? 0} now={now} />
      <label className="player-speed">
        speed
        <select value={speed} onChange={(e) => session.setState({ speed: Number(e.target.value) })}>
          {SPEEDS.map((s) => (
            <option key={s} value={s}>
              {s === 1 ? 'as it runs' : `${s} times`}
            </option>
          ))}
        </select>
      </label>
      <JumpTo loaded={loaded} />
      {playAt === undefined ? null : (
        <button type="button" onClick={() => actions.set({ playAt: undefined, playing: false })}>
          Show the finished part
        </button>
      )}
      <output className="player-now">
        {playAt === undefined
          ? 'The finished part is shown: press Play, or drag along the bar'
          : words(now, loaded, inch)}
      </output>
    </section>
  );
}

function useFindings(loaded: Loaded) {
  const build = useShop(playable);
  return useMemo(
    () =>
      (build?.findings ?? []).flatMap((finding) => {
        const at = timeOf(loaded.reel, finding);
        return at === undefined ? [] : [{ finding, at }];
      }),
    [build, loaded],
  );
}

/** Takes the playhead, the ruler and the turn of the work to a finding. */
function JumpTo({ loaded }: { loaded: Loaded }) {
  const found = useFindings(loaded);
  if (!found.length) return null;
  const go = (n: number) => {
    const { finding, at } = found[n]!;
    actions.set({ playAt: at, playing: false, pointerX: finding.x, notice: findingWords(finding) });
    const { range } = shop.getState();
    const half = (range.to - range.from) / 2;
    if (finding.x < range.from || finding.x > range.to) actions.show({ from: finding.x - half, to: finding.x + half });
  };
  return (
    <select className="player-jump" value="" aria-label="Go to a finding" onChange={(e) => go(Number(e.target.value))}>
      <option value="" disabled>
        {found.length === 1 ? 'one finding' : `${found.length} findings`}
      </option>
      {found.map(({ finding, at }, n) => (
        <option key={`${finding.code} ${finding.file} ${finding.line} ${at}`} value={n}>
          {clockText(loaded.clock(at))} · {finding.message}
        </option>
      ))}
    </select>
  );
}

function Scrubber({ loaded, at, now }: { loaded: Loaded; at: number; now: Readout }) {
  const bar = useRef<HTMLDivElement>(null);
  const found = useFindings(loaded);
  const { reel, total_s, clock } = loaded;
  const go = (t: number) => actions.set({ playAt: Math.min(total_s, Math.max(0, t)) });
  const byPointer = (e: PointerEvent) => {
    const { left, width } = bar.current!.getBoundingClientRect();
    go(((e.clientX - left) / width) * total_s);
  };
  const byKey = (e: KeyboardEvent) => {
    const steps: { [key: string]: number } = {
      ArrowRight: at + KEY_SHARE * total_s,
      ArrowUp: at + KEY_SHARE * total_s,
      ArrowLeft: at - KEY_SHARE * total_s,
      ArrowDown: at - KEY_SHARE * total_s,
      PageUp: at + PAGE_SHARE * total_s,
      PageDown: at - PAGE_SHARE * total_s,
      Home: 0,
      End: total_s,
    };
    const to = steps[e.key];
    if (to === undefined) return;
    e.preventDefault();
    e.stopPropagation();
    go(to);
  };
  return (
    <div
      ref={bar}
      className="player-bar"
      role="slider"
      tabIndex={0}
      aria-label="Time of the cutting"
      aria-valuemin={0}
      aria-valuemax={Math.round(total_s)}
      aria-valuenow={Math.round(at)}
      aria-valuetext={`${clockText(clock(at))} of ${clockText(clock(total_s))}, ${now.stage}`}
      onKeyDown={byKey}
      onPointerDown={(e) => {
        bar.current!.setPointerCapture(e.pointerId);
        actions.set({ playing: false });
        byPointer(e);
      }}
      onPointerMove={(e) => {
        if (e.buttons & 1) byPointer(e);
      }}
    >
      {reel.stretches.map((s) => (
        <span
          key={`${s.file} ${s.stage} ${s.from_s}`}
          className="player-stretch"
          data-stage={s.stage}
          title={`${s.stage} · ${clockText(clock(s.to_s) - clock(s.from_s))}`}
          style={{ left: `${(100 * s.from_s) / total_s}%`, width: `${(100 * (s.to_s - s.from_s)) / total_s}%` }}
        />
      ))}
      {found.map(({ finding, at: t }) => (
        <span
          key={`${finding.code} ${finding.file} ${finding.line} ${t}`}
          className="player-finding"
          data-severity={finding.severity}
          style={{ left: `${(100 * t) / total_s}%` }}
        />
      ))}
      <span className="player-head" style={{ left: `${(100 * at) / total_s}%` }} />
    </div>
  );
}
