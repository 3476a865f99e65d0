/** The check that every solid passes before it leaves: status, handles, volume above zero, volume against the field's own. */
import type { Problem } from '../../shared/problems.ts';
import { SOLID_VOLUME_SHARE } from '../../shared/tolerances.ts';
import type { Field } from '../profiles/field.ts';
import { expectedOf } from './expected.ts';
import type { Solid } from './kernel.ts';
import type { SolidOptions } from './solid.ts';

/**
 * Checks a solid against the field it was built from.
 * @param options the same additions that the solid was built with
 * @returns what is wrong; empty for a good solid
 */
export function checkSolid(solid: Solid, field: Field, options: SolidOptions = {}): Problem[] {
  const found = (code: Problem['code'], message: string, allowed: string): Problem[] => [
    { code, severity: 'refuse', path: '', message, allowed },
  ];
  // Without a closed surface no other number means anything.
  if (solid.status !== 'NoError')
    return found('solid-broken', `the solid is not closed (${solid.status})`, 'a closed surface');
  const { volume } = solid;
  if (!(volume > 0))
    return found('solid-broken', `the solid is inside out or empty: ${volume} mm³`, 'a volume above 0');
  const problems: Problem[] = [];
  const want = expectedOf(field, options);
  if (solid.genus !== want.genus)
    problems.push(
      ...found('solid-broken', `the solid has ${solid.genus} handles`, `${want.genus} by its holes and bore`),
    );
  const off = Math.abs(volume - want.volume);
  if (off > SOLID_VOLUME_SHARE * want.volume + want.unsure)
    problems.push(
      ...found(
        'solid-volume',
        `the solid's volume is ${volume.toFixed(1)} mm³, ${off.toFixed(1)} off`,
        `${want.volume.toFixed(1)} mm³ by the field, within ${SOLID_VOLUME_SHARE * 100} %`,
      ),
    );
  return problems;
}
