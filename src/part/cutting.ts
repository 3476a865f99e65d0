/** Of the part document: bits, what may be asked of each stage, and what a person wants charged. */
import { z } from 'zod';
import { bitSchema } from '../../shared/catalog.ts';
import { choice, count, flag, mm, quantity, ratio, text } from '../../shared/schema.ts';
import { SCALLOP, SCALLOP_MOST } from '../../shared/tolerances.ts';
import { PRICE_DEFAULTS } from '../cam/price/options.ts';
import { idOrRow } from './rows.ts';

const bit = (label: string, description: string) => idOrRow(bitSchema, { label, description });

export const bitsSchema = z
  .strictObject({
    roughing: bit('roughing bit', 'Takes corners and bulk; left out, chosen by the size of the blank').optional(),
    finishing: bit('finishing bit', 'Makes the surface; left out, chosen by the narrowest cove').optional(),
    detail: z
      .array(bit('detail bit', 'A smaller bit for what the finishing bit cannot reach'))
      .max(4)
      .meta({
        label: 'detail bits',
        description: 'In the order of use; left out, chosen where a groove asks for one; an empty list means none',
      })
      .optional(),
    drills: z
      .array(bit('drilling bit', 'A bit that may plunge, for radial holes'))
      .max(4)
      .meta({
        label: 'drilling bits',
        description: 'For radial holes; left out, chosen by their diameters; an empty list means none',
      })
      .optional(),
  })
  .meta({ label: 'bits', description: 'The cutters, by catalog id or as whole rows' });

const way = (label: string, description: string) =>
  choice(['auto', 'along', 'around'], { label, description: `${description}; auto takes the quicker on this bench` });

export const planSchema = z
  .strictObject({
    corners: way('corners', 'Take corners off along the axis with the rotary stepped, or round and round').default(
      'auto',
    ),
    roughing: way('roughing', 'Rough along the axis with the rotary stepped, or round and round').default('auto'),
    finishing: choice(['spiral', 'along'], {
      label: 'finishing',
      description: 'One spiral from end to end, or strokes along the axis',
    }).default('spiral'),
    necking: flag({
      label: 'necking',
      description: 'Whether the wood beside the form is turned down to the stubs that still carry the torque',
    }).default(true),
    allowance: mm({
      label: 'allowance',
      description: 'Wood that roughing leaves for finishing',
      min: 0.05,
      max: 5,
      step: 0.05,
    }).default(0.5),
    scallop: mm({
      label: 'scallop',
      description: 'Height of the ridges between neighbouring turns of the finishing spiral',
      min: 0.002,
      max: SCALLOP_MOST,
      step: 0.002,
    }).default(SCALLOP),
  })
  .meta({ label: 'plan', description: 'What may be asked of each stage' });

const asked = (bit: string) =>
  z
    .strictObject({
      rpm: quantity('rpm', {
        label: 'speed',
        description: 'Turns of the spindle a minute',
        min: 500,
        max: 60000,
        step: 100,
      }),
      feed: quantity('mm/min', {
        label: 'feed',
        description: 'How fast the bit goes over the work, mm a minute; of a finishing or detail bit its last cut',
        min: 5,
        max: 30000,
        step: 10,
      }),
      plungeFeed: quantity('mm/min', {
        label: 'plunge feed',
        description: 'How fast the bit goes straight down, mm a minute',
        min: 1,
        max: 10000,
        step: 10,
      }),
      stepDown: mm({ label: 'step-down', description: 'Depth of a layer', min: 0.02, max: 50, step: 0.1 }),
      stepOver: mm({
        label: 'step-over',
        description: 'Distance of neighbouring strokes',
        min: 0.02,
        max: 50,
        step: 0.1,
      }),
    })
    .partial()
    .meta({
      label: `speeds of the ${bit}`,
      description: `Your own numbers for the ${bit}; what you leave out is worked out`,
    });

export const feedsSchema = z
  .strictObject({
    roughing: asked('roughing bit'),
    finishing: asked('finishing bit'),
    detail: asked('detail bits'),
    drills: asked('drilling bits'),
  })
  .partial()
  .meta({
    label: 'feeds and speeds',
    description:
      'Numbers of your own in place of those that material, bit and bench give; fit and loads are checked with them',
  });

const share = (label: string, description: string, max: number) =>
  ratio({ label, description, min: 0, max, step: 0.05 });
const minutes = (label: string, description: string) =>
  quantity('ratio', { label, description, min: 0, max: 6000, step: 1 });

export const priceSchema = z
  .strictObject({
    currency: text(8, { label: 'currency', description: 'Name or sign of the currency' }).default(
      PRICE_DEFAULTS.currency,
    ),
    waste: share('waste', 'Share of stock lost to sawing and faults, where no cut list tells it', 3).default(
      PRICE_DEFAULTS.waste,
    ),
    setup_min: minutes('setting up', 'Minutes of setting up once for a run').default(PRICE_DEFAULTS.setup_min),
    parts: count({
      label: 'parts',
      description: 'How many parts share the setting up',
      min: 1,
      max: 10000,
      step: 1,
    }).default(PRICE_DEFAULTS.parts),
    hand_min: minutes('work by hand', 'Minutes by hand on each part: mounting, changing bits, packing').default(
      PRICE_DEFAULTS.hand_min,
    ),
    finish_min_dm2: quantity('ratio', {
      label: 'sanding and finish',
      description: 'Minutes by hand for a square decimetre of surface',
      min: 0,
      max: 600,
      step: 0.1,
    }).default(PRICE_DEFAULTS.finish_min_dm2),
    labourRate: quantity('money', {
      label: 'labour rate',
      description: 'An hour of a person',
      min: 0,
      max: 1000,
      step: 0.5,
    }).default(PRICE_DEFAULTS.labourRate),
    scrap: share('scrap', 'Share of pieces that are spoiled and paid by the good ones', 0.9).default(
      PRICE_DEFAULTS.scrap,
    ),
    overhead: share('overhead', 'Share on top of cost: rent, tools, sandpaper, oil, unpaid hours', 5).default(
      PRICE_DEFAULTS.overhead,
    ),
    margin: share('margin', 'Share of the selling price that is left over', 0.95).default(PRICE_DEFAULTS.margin),
    breaks: z
      .array(count({ label: 'quantity', description: 'Pieces in a run', min: 1, max: 10000, step: 1 }))
      .min(1)
      .max(8)
      .meta({ label: 'quantity breaks', description: 'Numbers of pieces at which the price list tells a price' })
      .default([...PRICE_DEFAULTS.breaks]),
  })
  .meta({ label: 'price', description: 'What one part costs, and what it is sold for; before taxes' });
