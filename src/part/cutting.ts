/** Of the part document: bits, what may be asked of each stage, and what a person wants charged. */
import { z } from 'zod';
import { bitSchema } from '../../shared/catalog.ts';
import { choice, flag, mm, quantity, ratio, text } from '../../shared/schema.ts';
import { SCALLOP } from '../../shared/tolerances.ts';
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
      max: 0.5,
      step: 0.002,
    }).default(SCALLOP),
  })
  .meta({ label: 'plan', description: 'What may be asked of each stage' });

export const priceSchema = z
  .strictObject({
    currency: text(8, { label: 'currency', description: 'Name or sign of the currency' }).default('EUR'),
    hourlyRate: quantity('money', {
      label: 'hourly rate',
      description: 'An hour of the bench; left out, the bench’s own rate',
      min: 0,
      max: 1000,
      step: 0.5,
    }).optional(),
    labourRate: quantity('money', {
      label: 'labour rate',
      description: 'An hour of a person',
      min: 0,
      max: 1000,
      step: 0.5,
    }).default(30),
    labour_min: quantity('ratio', {
      label: 'labour',
      description: 'Minutes of a person for one part: mounting, bit changes, sanding',
      min: 0,
      max: 6000,
      step: 1,
    }).default(15),
    waste: ratio({
      label: 'waste',
      description: 'Share of stock bought and not used, on top of the blank',
      min: 0,
      max: 3,
      step: 0.05,
    }).default(0.15),
    margin: ratio({
      label: 'margin',
      description: 'Share added on top of all cost',
      min: 0,
      max: 10,
      step: 0.05,
    }).default(0.25),
  })
  .meta({ label: 'price', description: 'What one part costs' });
