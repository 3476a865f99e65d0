import { describe, expect, test } from 'vitest';
import { benches, bits, controls, materials } from '../shared/catalog.ts';
import { heightAt } from '../src/cam/bit.ts';

const all = { materials, bits, benches, controls };

describe('the catalogs', () => {
  test.each(Object.entries(all))('%s: ids are unique and every row names its source', (_name, rows) => {
    expect(rows.length).toBeGreaterThanOrEqual(3);
    expect(new Set(rows.map((r) => r.id)).size).toBe(rows.length);
    for (const row of rows) expect(row.source.length, row.id).toBeGreaterThan(20);
  });

  test('what no source was read for says so', () => {
    for (const row of [...bits, ...benches]) expect(row.source).toMatch(/no source|from memory/);
    for (const m of materials) expect(m.source, m.id).toMatch(/from memory/);
  });
});

describe('materials', () => {
  const of = (id: string) => materials.find((m) => m.id === id)!;

  test('the rows agree with the Wood Handbook (FPL-GTR-190, Table 5-3a, 12 % moisture, metric)', () => {
    // Rows read whole: black cherry .50/10300/85/11700 kPa, sugar maple .63/12600/109/16100 kPa,
    // ponderosa pine .40/8900/65/7800 kPa; the metric table is the inch-pound one rounded.
    const read = [
      ['black-cherry', 0.5, 10300, 85, 11.7],
      ['sugar-maple', 0.63, 12600, 109, 16.1],
      ['ponderosa-pine', 0.4, 8900, 65, 7.8],
      ['bur-oak', 0.64, 7100, 71, 12.5],
    ] as const;
    for (const [id, sg, modulus, strength, shear] of read) {
      const m = of(id);
      // Density at 12 % = 1.12 · SG · 1000 kg/m³ (from memory).
      expect(m.density).toBe(Math.round(1120 * sg));
      expect([m.modulus, m.bendingStrength, m.shearStrength]).toEqual([modulus, strength, shear]);
    }
  });

  test('wood is strong along the grain and soft in shear; metal is isotropic', () => {
    const wood = materials.filter((m) => m.kind === 'softwood' || m.kind === 'hardwood');
    expect(wood.length).toBeGreaterThanOrEqual(12);
    for (const m of wood) {
      expect(m.shearStrength, m.id).toBeLessThan(m.bendingStrength / 3);
      expect(m.shearModulus / m.modulus, m.id).toBeGreaterThan(0.04);
      expect(m.shearModulus / m.modulus, m.id).toBeLessThan(0.15);
      // Working range of the specific cutting force along the grain (from memory): 10 to 60 N/mm².
      expect(m.cuttingForce, m.id).toBeGreaterThan(10);
      expect(m.cuttingForce, m.id).toBeLessThan(60);
    }
    // G = E/(2(1 + ν)) with ν between 0.25 and 0.45.
    for (const m of materials.filter((m) => m.kind === 'metal' || m.kind === 'plastic'))
      expect(m.modulus / m.shearModulus, m.id).toSatisfy((q: number) => q > 2.5 && q < 2.9);
  });

  test('chip loads fall from softwood over hardwood to metal', () => {
    // Common practice, no source: only the order is asserted.
    const mean = (kind: string) => {
      const factors = materials.filter((m) => m.kind === kind).map((m) => m.chipLoadFactor);
      return factors.reduce((a, b) => a + b, 0) / factors.length;
    };
    expect(mean('softwood')).toBeGreaterThan(mean('hardwood'));
    expect(mean('hardwood')).toBeGreaterThan(mean('metal'));
  });

  test('dust and fume cautions stand where they belong', () => {
    for (const m of materials) expect(m.caution, m.id).not.toBe('');
    expect(of('pvc').caution).toMatch(/hydrogen chloride/);
    expect(of('white-oak').caution).toMatch(/carcinogen/);
    expect(of('teak').caution).toMatch(/sensitise/);
    expect(of('aluminium-6061').caution).toMatch(/wood dust collector/);
  });
});

describe('bits', () => {
  test.each(bits.map((b) => [b.id, b] as const))('%s can exist', (_id, b) => {
    expect(b.fluteLength).toBeLessThanOrEqual(b.reach);
    expect(b.reach).toBeLessThanOrEqual(b.stickOut);
    expect(b.holder).toBeGreaterThan(b.shank);
    if (b.kind === 'ball') expect(b.tipRadius).toBe(b.diameter / 2);
    if (b.kind === 'flat') expect(b.tipRadius).toBe(0);
    if (b.kind === 'bull') expect(b.tipRadius).toBeLessThan(b.diameter / 2);
    if (b.kind === 'vee' || b.kind === 'tapered-ball') expect(b.includedAngle_deg).toBeGreaterThan(0);
    else expect(b.includedAngle_deg).toBe(0);
    // The cutting edge reaches up to where the diameter is full.
    expect(b.fluteLength).toBeGreaterThanOrEqual(heightAt(b, b.diameter / 2) - 1e-9);
  });

  test('the generic set covers every kind and the usual shanks', () => {
    expect(new Set(bits.map((b) => b.kind))).toEqual(new Set(['flat', 'ball', 'bull', 'vee', 'tapered-ball']));
    for (const d of [3.175, 6, 6.35, 12.7]) expect(bits.some((b) => b.kind === 'flat' && b.diameter === d)).toBe(true);
    for (const d of [3.175, 6, 6.35]) expect(bits.some((b) => b.kind === 'ball' && b.diameter === d)).toBe(true);
    for (const a of [30, 60, 90]) expect(bits.some((b) => b.kind === 'vee' && b.includedAngle_deg === a)).toBe(true);
    for (const r of [0.25, 0.5, 1]) expect(bits.some((b) => b.kind === 'tapered-ball' && b.tipRadius === r)).toBe(true);
  });
});

describe('benches', () => {
  test.each(benches.map((b) => [b.id, b] as const))('%s can exist', (_id, b) => {
    expect(b.swing / 2).toBeLessThanOrEqual(b.bedBelow);
    expect(b.axialTravel).toBeGreaterThanOrEqual(b.betweenCentres);
    expect(b.spindleMin).toBeLessThan(b.spindleMax);
    expect(b.chuck.diameter).toBeLessThanOrEqual(b.swing);
    expect(b.chuck.gripMin).toBeLessThan(b.chuck.gripMax);
    expect(b.chuck.gripMax).toBeLessThanOrEqual(b.chuck.diameter);
    expect(b.tailstock.noseLength).toBeLessThanOrEqual(b.tailstock.bodyFrom);
    expect(b.tailstock.diameter).toBeLessThanOrEqual(b.tailstock.bodyDiameter);
    // A bit of the common stick-out lifts clear of the chuck's own diameter.
    expect(b.roomAbove).toBeGreaterThan(40 + b.chuck.diameter / 2);
  });

  test('they grow from small over middle to long, and the long one takes a 700 mm baluster 45 mm square', () => {
    for (const key of ['swing', 'betweenCentres', 'axialTravel', 'spindlePower'] as const)
      expect(benches.map((b) => b[key])).toEqual([...benches.map((b) => b[key])].sort((p, q) => p - q));
    const long = benches.at(-1)!;
    expect(long.betweenCentres).toBeGreaterThan(700 + 2 * 30);
    expect(long.swing).toBeGreaterThan(45 * Math.SQRT2);
    expect(long.chuck.gripMax).toBeGreaterThan(45);
  });
});

describe('controls', () => {
  test.each(controls.map((c) => [c.id, c] as const))('%s can exist', (_id, c) => {
    expect(new Set([c.axial.letter, c.radial.letter, c.rotary.letter]).size).toBe(3);
    expect(c.rotary.linear).toBe(/[XYZUVW]/.test(c.rotary.letter));
    // A rotary in degrees has 360 of them a turn, in either unit of length (RS-274: degrees under G20 as well).
    if (!c.rotary.linear) expect(c.rotary.unitsPerTurn).toBe(360);
    // Inch words need one decimal more for the same resolution.
    expect(c.decimals.linear).toBeGreaterThanOrEqual(c.units === 'inch' ? 4 : 3);
  });

  test('every rule, both units, both outputs and both number widths are among them', () => {
    const has = (p: (c: (typeof controls)[number]) => boolean) => expect(controls.some(p)).toBe(true);
    for (const rule of ['inverse-time', 'all-words', 'linear-first']) has((c) => c.feedRule === rule);
    has((c) => c.units === 'inch' && !c.rotary.linear);
    has((c) => c.units === 'inch' && c.rotary.linear);
    has((c) => c.rotary.linear && c.rotary.unitsPerTurn === 360);
    has((c) => c.rotary.linear && c.rotary.unitsPerTurn === 100);
    has((c) => c.significandBits === 24);
    has((c) => !c.canRezero);
    has((c) => c.files === 'one');
    has((c) => c.rotary.sign === -1);
  });
});
