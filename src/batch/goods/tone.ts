/** What a material looks like in a picture: its deepest and its lightest tone. Chosen by eye, no source. */
import type { Material } from '../../../shared/catalog.ts';

export type Tone = readonly [deep: readonly [number, number, number], light: readonly [number, number, number]];

/** The first that the material's id contains. */
const TONES: readonly [string, Tone][] = [
  [
    'walnut',
    [
      [38, 24, 16],
      [176, 132, 98],
    ],
  ],
  [
    'cherry',
    [
      [74, 32, 18],
      [232, 168, 124],
    ],
  ],
  [
    'mahogany',
    [
      [68, 26, 16],
      [214, 134, 98],
    ],
  ],
  [
    'teak',
    [
      [72, 46, 20],
      [222, 178, 112],
    ],
  ],
  [
    'alder',
    [
      [88, 50, 28],
      [232, 184, 142],
    ],
  ],
  [
    'oak',
    [
      [84, 60, 34],
      [232, 204, 158],
    ],
  ],
  [
    'hickory',
    [
      [88, 62, 38],
      [236, 208, 166],
    ],
  ],
  [
    'douglas',
    [
      [94, 54, 28],
      [238, 194, 144],
    ],
  ],
  [
    'pine',
    [
      [104, 74, 38],
      [250, 226, 178],
    ],
  ],
  [
    'poplar',
    [
      [82, 76, 46],
      [232, 224, 184],
    ],
  ],
  [
    'brass',
    [
      [72, 52, 12],
      [255, 232, 158],
    ],
  ],
  [
    'aluminium',
    [
      [62, 66, 70],
      [246, 248, 250],
    ],
  ],
];
const BY_KIND: Readonly<Record<Material['kind'], Tone>> = {
  hardwood: [
    [96, 70, 44],
    [250, 232, 200],
  ],
  softwood: [
    [104, 74, 38],
    [250, 226, 178],
  ],
  plastic: [
    [96, 98, 100],
    [250, 250, 248],
  ],
  metal: [
    [62, 66, 70],
    [246, 248, 250],
  ],
};

export const toneOf = (material: Pick<Material, 'id' | 'kind'>): Tone =>
  TONES.find(([word]) => material.id.includes(word))?.[1] ?? BY_KIND[material.kind];

/** Whether it has a grain to show. */
export const grained = (material: Pick<Material, 'kind'>): boolean =>
  material.kind === 'hardwood' || material.kind === 'softwood';
