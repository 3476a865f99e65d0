/** The page's store: the document with its history, what follows from it, what the workers make of it. No React. */
import { createStore, type StoreApi } from 'zustand/vanilla';
import { outerRadius } from '../../cam/blank.ts';
import { keysOf } from '../../part/change.ts';
import { readJson } from '../../part/json.ts';
import { whole } from '../lanes/view.ts';
import type { Actions, BuildResult, FitResult, Made, Path, Raw, Selection, SolidResult, Workshop } from './contract.ts';
import { derive } from './derive.ts';
import { changed, emptyHistory, type History, redone, settled, undone } from './history.ts';
import { type Place, placeKeeper } from './keeper.ts';
import { problemWords } from './place-words.ts';
import { sameJson } from './same-json.ts';
import { stepsOf } from './steps.ts';
import type { Storage } from './storage.ts';

/** Work done elsewhere. Each call may be dropped: `stop` ends it and its promise never settles. */
export interface Work<T> {
  result: Promise<T>;
  stop(): void;
}

/** What the store needs from the world around it; the page gives workers and a clock, tests give their own. */
export interface Services {
  solid(raw: Raw): Work<SolidResult>;
  fit(raw: Raw): Work<FitResult>;
  build(raw: Raw, onProgress: (share: number, what: string) => void): Work<BuildResult>;
  storage: Storage;
  /** Template name → document text. */
  templates: ReadonlyMap<string, string>;
  now(): number;
  newId(): string;
  /** Calls back once, after the given ms; returns what cancels it. */
  later(ms: number, run: () => void): () => void;
}

export type WorkshopStore = StoreApi<Workshop & Actions> & {
  /** Writes what is not yet stored, now. */
  flush(): Promise<void>;
};

/** How long the hand must rest before the solid is built and the document stored, ms. */
const SOLID_PAUSE = 120;
const SAVE_PAUSE = 400;
/** Least time between two questions whether it fits and holds, ms: often enough for the eye. */
const FIT_PAUSE = 50;

/** The plainest part: one cylinder out of a stick, which every bench that is shipped can cut. */
export const blankDocument = (): Raw => ({
  cavetto: 1,
  name: 'New part',
  form: [{ element: 'cylinder', length: 100, start: 30 }],
  blank: { section: 'square', width: 36, material: 'sugar-maple' },
});

/** What is told when two tabs changed one part. */
const PARTED =
  'This part was also changed in another tab: what you have here is kept as a part of its own, both are in the drawer.';

const nameOf = (raw: Raw): string => (typeof raw.name === 'string' && raw.name ? raw.name : 'Untitled part');

/** Puts a value where a path leads, making the groups on the way. An undefined value takes the key out. */
function put(draft: Raw, path: Path, value: unknown): void {
  let at = draft as { [key: string | number]: unknown };
  for (const [i, key] of path.slice(0, -1).entries()) {
    if (typeof at[key] !== 'object' || at[key] === null) at[key] = typeof path[i + 1] === 'number' ? [] : {};
    at = at[key] as typeof at;
  }
  const last = path.at(-1)!;
  if (value !== undefined) at[last] = value;
  else if (Array.isArray(at)) at.splice(Number(last), 1);
  else delete at[last];
}

/**
 * Makes the store and derives everything of its first document.
 * @param services the world around it @param first the document to begin with
 */
export function createWorkshop(services: Services, first: Raw = blankDocument()): WorkshopStore {
  let history: History = emptyHistory();
  /** Whether the document on the bench can be had again from where it came, as long as nobody changes it. */
  let sample = true;
  /** Serials given so far: one that comes again names the very same text. */
  let serials = 0;
  /** The last proof that came to an end for the part on the bench, and the text it is of. */
  let proven: { raw: Raw; made: Made<BuildResult> & { status: 'ready' } } | undefined;
  /** Where the document on the bench is stored. */
  let place: Place;
  const keeper = placeKeeper(services.storage, services.newId);
  let solidWork: Work<SolidResult> | undefined;
  let buildWork: Work<BuildResult> | undefined;
  let fitWork: Work<FitResult> | undefined;
  let fitWaits = false;
  let cancelSolid = () => {};
  let cancelSave = () => {};
  /** Set by the initializer below, for what happens outside any action. */
  const inner = { save: async () => {}, begin: () => {} };

  const store = createStore<Workshop & Actions>()((set, get) => {
    /** Takes a document over: derives, schedules solid and storing, keeps old results on show as stale. */
    const take = (raw: Raw, done: History, fresh: Partial<Workshop> = {}) => {
      history = done;
      // A document that has come back to the text that was proven is that document again, for all that asks by the serial.
      const back = proven && sameJson(raw, proven.raw) ? proven.made : undefined;
      const serial = back?.serial ?? ++serials;
      const derived = derive(raw);
      const { field, layout, job } = derived;
      buildWork?.stop();
      buildWork = undefined;
      const stale = <T>(made: Made<T>): Made<T> =>
        made.status === 'working'
          ? made.last
            ? { status: 'ready', serial: -1, value: made.last, seconds: 0 }
            : { status: 'none' }
          : made;
      const next: Workshop = {
        ...get(),
        raw,
        serial,
        ...derived,
        // A form that no longer fits is shown in the blank that it no longer fits.
        ...(field && layout ? { lastGood: { field, layout, job: job ?? get().lastGood?.job } } : {}),
        build: back ?? stale(get().build),
        undoDepth: history.done.length,
        redoDepth: history.undone.length,
        saved: false,
        ...fresh,
      };
      set({ ...next, steps: stepsOf(next) });
      cancelSolid();
      if (field) cancelSolid = services.later(SOLID_PAUSE, startSolid);
      followFit();
      cancelSave();
      cancelSave = services.later(SAVE_PAUSE, () => void save());
    };

    /** Asks soon, and again as long as the document changes meanwhile; never two questions at a time. */
    const followFit = () => {
      if (fitWaits || fitWork) return;
      fitWaits = true;
      services.later(FIT_PAUSE, () => {
        fitWaits = false;
        startFit();
      });
    };

    const startFit = () => {
      const { raw, serial, job, fit } = get();
      if (!job) return;
      const last = fit.status === 'ready' ? fit.value : fit.status === 'working' ? fit.last : undefined;
      set({
        fit: { status: 'working', serial, share: 0, what: 'working out its strength', ...(last ? { last } : {}) },
      });
      const began = services.now();
      const work = services.fit(raw);
      fitWork = work;
      const finish = (made: Made<FitResult>) => {
        if (fitWork !== work) return;
        fitWork = undefined;
        set({ fit: made });
        set({ steps: stepsOf(get()) });
        if (get().serial !== serial) followFit();
      };
      work.result.then(
        (value) => finish({ status: 'ready', serial, value, seconds: (services.now() - began) / 1000 }),
        (fault: unknown) => finish({ status: 'failed', serial, message: String(fault) }),
      );
    };

    const startSolid = () => {
      const { raw, serial, solid } = get();
      solidWork?.stop();
      const last = solid.status === 'ready' ? solid.value : solid.status === 'working' ? solid.last : undefined;
      set({ solid: { status: 'working', serial, share: 0, what: 'building the solid', ...(last ? { last } : {}) } });
      const began = services.now();
      const work = services.solid(raw);
      solidWork = work;
      work.result.then(
        (value) => {
          if (solidWork === work)
            set({ solid: { status: 'ready', serial, value, seconds: (services.now() - began) / 1000 } });
        },
        (fault: unknown) => {
          if (solidWork === work) set({ solid: { status: 'failed', serial, message: String(fault) } });
        },
      );
    };

    const save = async () => {
      const { raw, serial } = get();
      const { done, undone } = history;
      const at = place;
      // A sample that nobody has changed would only fill the drawer.
      if (sample && !done.length && !undone.length && !get().drawer.some((d) => d.id === at.id)) {
        set({ saved: true, drawer: await services.storage.list().catch(() => []) });
        return;
      }
      try {
        const { parted } = await keeper.save(at, { name: nameOf(raw), changed: services.now(), raw, done, undone });
        if (parted) set({ notice: PARTED, ...(at === place ? { id: at.id } : {}) });
        if (get().serial === serial && history.done === done && history.undone === undone) set({ saved: true });
        set({ drawer: await services.storage.list() });
      } catch {
        set({
          notice: 'This browser does not let the page store documents: save the part as a file before you leave.',
        });
      }
    };
    inner.save = save;

    const open = (raw: Raw, to: Place, from: 'sample' | 'elsewhere', next: History = emptyHistory()) => {
      // What leaves the bench is stored first: taking the next one over drops its waiting write.
      if (get().serial && !get().saved) void save();
      sample = from === 'sample';
      place = to;
      proven = undefined;
      solidWork?.stop();
      fitWork?.stop();
      fitWork = undefined;
      take(raw, next, {
        id: to.id,
        build: { status: 'none' },
        solid: { status: 'none' },
        fit: { status: 'none' },
        lastGood: undefined,
        selection: { kind: 'step', step: 'form' },
        playAt: undefined,
        playing: false,
        notice: '',
      });
      const { field, layout, job } = get();
      if (field && layout) set({ lastGood: { field, layout, job } });
      const shown = job?.blank ?? { from: 0, to: field?.length ?? 100 };
      set({ range: whole(shown, job ? outerRadius(job.blank) : (field?.maxRadius ?? 0)) });
    };

    const fresh = (): Place => ({ id: services.newId(), revision: undefined });
    inner.begin = () => open(first, { id: get().id, revision: undefined }, 'sample');

    const blankState: Workshop = {
      id: services.newId(),
      raw: first,
      serial: 0,
      part: undefined,
      field: undefined,
      layout: undefined,
      job: undefined,
      problems: [],
      lastGood: undefined,
      saved: false,
      undoDepth: 0,
      redoDepth: 0,
      drawer: [],
      solid: { status: 'none' },
      fit: { status: 'none' },
      build: { status: 'none' },
      steps: [],
      selection: { kind: 'step', step: 'form' },
      range: { from: 0, to: 100 },
      pointerX: undefined,
      playAt: undefined,
      playing: false,
      turned: 0,
      orbit: false,
      shownUnits: 'mm',
      theme: 'system',
      notice: '',
    };

    return {
      ...blankState,
      edit: (path, value, gesture) => get().change((draft) => put(draft, path, value), gesture),
      change: (recipe, gesture) => {
        const next = changed(get().raw, history, recipe, gesture);
        if (next.raw !== get().raw) take(next.raw, next.history);
      },
      mend: (change) =>
        get().change((draft) => {
          for (const { path, value } of change.set) put(draft, keysOf(path), value ?? undefined);
        }),
      settle: () => {
        history = settled(history);
      },
      undo: () => {
        const next = undone(get().raw, history);
        if (next) take(next.raw, next.history);
      },
      redo: () => {
        const next = redone(get().raw, history);
        if (next) take(next.raw, next.history);
      },
      select: (selection: Selection) => set({ selection }),
      show: (range) => set({ range }),
      openText: (text, name) => {
        const json = readJson(text);
        const what = name ?? 'That text';
        if (!('value' in json)) {
          set({ notice: `${what} is not a part document: line ${json.line}, column ${json.column}: ${json.message}` });
          return;
        }
        const raw = json.value as Raw;
        const { problems, part } = derive(raw);
        if (!part) {
          const more = problems.length > 1 ? ` (and ${problems.length - 1} more)` : '';
          const p = problems[0]!;
          set({ notice: `${what} cannot be opened: ${problemWords(raw, p)}${more}` });
          return;
        }
        open(raw, fresh(), 'elsewhere');
      },
      openTemplate: (name) => {
        const text = services.templates.get(name);
        if (text !== undefined) open(JSON.parse(text) as Raw, fresh(), 'sample');
      },
      openPlain: () => open(blankDocument(), fresh(), 'sample'),
      openStored: async (id) => {
        // What is stored already is not written again: where another tab has changed it meanwhile, that one is wanted.
        if (!get().saved) await save();
        await keeper.rest();
        const record = await services.storage.load(id);
        if (!record) return;
        const { raw, done, undone, revision } = record;
        open(raw, { id, revision }, 'elsewhere', { done, undone, gesture: undefined });
        // As it lies in the store it needs no writing; only that it was opened last is noted.
        cancelSave();
        set({ saved: true });
        await services.storage.touch(id, services.now());
        set({ drawer: await services.storage.list() });
      },
      keep: async () => {
        sample = false;
        if (!get().drawer.some((d) => d.id === get().id)) await save();
      },
      removeStored: async (id) => {
        await services.storage.remove(id);
        set({ drawer: await services.storage.list() });
      },
      prove: () => {
        buildWork?.stop();
        const { raw, serial, build } = get();
        const last = build.status === 'ready' ? build.value : build.status === 'working' ? build.last : undefined;
        const kept = last ? { last } : {};
        set({ build: { status: 'working', serial, share: 0, what: 'starting', ...kept } });
        const began = services.now();
        const work = services.build(raw, (share, what) => {
          if (buildWork !== work) return;
          set({ build: { status: 'working', serial, share, what, ...kept } });
          set({ steps: stepsOf(get()) });
        });
        buildWork = work;
        const finish = (made: Made<BuildResult>) => {
          if (buildWork !== work) return;
          buildWork = undefined;
          if (made.status === 'ready') proven = { raw, made };
          set({ build: made });
          set({ steps: stepsOf(get()) });
        };
        work.result.then(
          (value) => finish({ status: 'ready', serial, value, seconds: (services.now() - began) / 1000 }),
          (fault: unknown) => finish({ status: 'failed', serial, message: String(fault) }),
        );
        set({ steps: stepsOf(get()) });
      },
      stop: () => {
        const { build, serial } = get();
        buildWork?.stop();
        buildWork = undefined;
        if (build.status === 'working') {
          const old: Made<BuildResult> = build.last
            ? { status: 'ready', serial: -1, value: build.last, seconds: 0 }
            : { status: 'none' };
          set({ build: proven?.made.serial === serial ? proven.made : old });
        }
        set({ steps: stepsOf(get()) });
      },
      set: (patch) => {
        set(patch);
        if (patch.shownUnits) set({ steps: stepsOf(get()) });
      },
    };
  });
  inner.begin();
  return Object.assign(store, {
    flush: async () => {
      cancelSave();
      await inner.save();
    },
  });
}
