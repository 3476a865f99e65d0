import { describe, expect, test } from 'vitest';
import { problemLine } from '../../shared/problems.ts';
import { readRack } from '../../src/batch/rack.ts';

const rack = (text: string, inch = false) => {
  const result = readRack(text, inch);
  if ('problems' in result) throw new Error(result.problems.map(problemLine).join('\n'));
  return result.rack;
};

describe('a rack of stock', () => {
  test('has a length a row, and what it does for', () => {
    expect(
      rack(
        'name,length,quantity,material,section\nLong oak,2400,6,white-oak,square 42\nFlat,1200,,,rectangle 60 x 30\nAny,900,,,',
      ),
    ).toEqual([
      { name: 'Long oak', length: 2400, quantity: 6, material: 'white-oak', section: 'square', width: 42 },
      { name: 'Flat', length: 1200, section: 'rectangle', width: 60, height: 30 },
      { name: 'Any', length: 900 },
    ]);
    expect(rack('name;length;section\nRod;1200,5;round 44,5')).toEqual([
      { name: 'Rod', length: 1200.5, section: 'round', width: 44.5 },
    ]);
  });

  test('of an inch document is in inches', () => {
    // 25.4 mm to the inch, exact by definition (international yard and pound agreement, 1959).
    expect(rack('name,length,section\nLong,96,square 1.75', true)).toEqual([
      { name: 'Long', length: 2438.4, section: 'square', width: 44.45 },
    ]);
  });

  test.each<[string, string, RegExp]>([
    [
      'an unknown column',
      'name,lenght\nA,1',
      /^line 1, column 2: the column "lenght" is not known \(did you mean "length"/,
    ],
    ['a column twice', 'name,length,Length\nA,1,1', /^line 1, column 3: the column "length" is there twice/],
    ['no length', 'name\nA', /^line 1: no column is called "length"/],
    ['no name', 'name,length\n,900', /^line 2, column 1 \(name\): the stock has no name/],
    [
      'a text for a length',
      'name,length\nA,long',
      /^line 2, column 2 \(length\): "long" is no length of stock \(above 0, up to 20000 mm\)/,
    ],
    ['half a stick', 'name,length,quantity\nA,900,1.5', /^line 2, column 3 \(quantity\): "1\.5" is no quantity/],
    ['a slip of the wood', 'name,length,material\nA,900,white-oka', /"white-oka" \(did you mean "white-oak"\?\)/],
    ['no section', 'name,length,section\nA,900,square', /^line 2, column 3 \(section\): "square" is no section/],
    ['a rectangle of one side', 'name,length,section\nA,900,rectangle 40', /"rectangle 40" is no section/],
  ])('%s is told in its place', (_what, text, expected) => {
    const result = readRack(text, false);
    const lines = 'problems' in result ? result.problems.map(problemLine) : [];
    expect(lines).toHaveLength(1);
    expect(lines[0]).toMatch(expected);
  });
});
