import fc from 'fast-check';
import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import { looseEdges, type Mesh, massOfMesh } from '../../src/mesh/mesh.ts';
import { meshOf } from '../../src/mesh/mesh-of.ts';
import { readObj, writeObj } from '../../src/mesh/obj.ts';
import type { Reading } from '../../src/mesh/reading.ts';
import { readStl, writeStl } from '../../src/mesh/stl.ts';
import { read3mf, write3mf } from '../../src/mesh/threemf.ts';
import { elementsOf } from '../../src/mesh/xml.ts';
import { cone, fluted } from '../support/fields.ts';
import { hardFields } from './hard-fields.ts';

const SEED = 20240607;

/** Triangles as sorted text of their corners, each begun at its least corner: what a mesh is, whatever its numbering. */
function triangleSet({ positions: p, triangles: t }: Mesh): string[] {
  const corner = (v: number) => [0, 1, 2].map((k) => Math.fround(p[3 * v + k]!) + 0).join(' ');
  const out: string[] = [];
  for (let k = 0; k < t.length; k += 3) {
    const c = [corner(t[k]!), corner(t[k + 1]!), corner(t[k + 2]!)];
    const least = c.indexOf([...c].sort()[0]!);
    out.push([0, 1, 2].map((i) => c[(least + i) % 3]).join(' | '));
  }
  return out.sort();
}

const formats: [string, (mesh: Mesh) => Reading][] = [
  ['binary STL', (mesh) => readStl(writeStl(mesh))],
  ['3MF', (mesh) => read3mf(write3mf(mesh))],
  ['OBJ', (mesh) => readObj(writeObj(mesh))],
];

describe.each(formats)('%s', (_name, trip) => {
  test.each(hardFields())('%s comes back triangle for triangle, closed and outward', (_, field) => {
    const mesh = meshOf(field, { tolerance: 0.2 });
    const back = trip(mesh);
    expect(back.problems).toEqual([]);
    expect(triangleSet(back.mesh!)).toEqual(triangleSet(mesh));
    expect(back.mesh!.positions.length).toBe(mesh.positions.length);
    expect(looseEdges(back.mesh!)).toBe(0);
    expect(back.mesh!.outward).toBe(true);
  });

  test('an inside-out mesh comes back inside out and says so', () => {
    const mesh = meshOf(cone(20, 5, 0.1));
    const back = trip({ ...mesh, triangles: mesh.triangles.slice().reverse(), outward: false });
    expect(back.mesh!.outward).toBe(false);
    expect(massOfMesh(back.mesh!).volume).toBeLessThan(0);
  });
});

test('the same mesh gives the same bytes in every format', () => {
  const mesh = meshOf(fluted(30, 10, 6, 1, 2), { tolerance: 0.1 });
  expect(writeStl(mesh)).toEqual(writeStl(mesh));
  expect(write3mf(mesh)).toEqual(write3mf(mesh));
  expect(writeObj(mesh)).toBe(writeObj(mesh));
});

test('the package is dated 1 January 1980, 0:00, in every time zone', () => {
  const bytes = write3mf(meshOf(cone(20, 5, 0.1)));
  // DOS time and date at bytes 10 to 13 of a zip's first header: seconds, minutes, hours 0; day 1, month 1, year 0.
  expect([...bytes.subarray(10, 14)]).toEqual([0, 0, 0x21, 0]);
});

const refused = (r: Reading, part: string) => {
  expect(r.mesh).toBeUndefined();
  expect(r.problems).toHaveLength(1);
  expect(r.problems[0]!.code).toBe('mesh-file');
  expect(r.problems[0]!.message).toContain(part);
};

describe('broken binary STL', () => {
  const good = writeStl(meshOf(cone(20, 5, 0.1), { tolerance: 0.5 }));
  const changed = (at: number, value: number) => {
    const copy = good.slice();
    new DataView(copy.buffer).setFloat32(at, value, true);
    return copy;
  };
  test('too short, cut off, too long, empty, not a number, text: each says what is wrong', () => {
    refused(readStl(new Uint8Array(0)), 'too few');
    refused(readStl(good.slice(0, 83)), 'too few');
    refused(readStl(good.slice(0, -1)), 'the count says');
    refused(readStl(new Uint8Array([...good, 0])), 'the count says');
    refused(readStl(new Uint8Array(84)), 'no facet');
    refused(readStl(changed(84 + 12, Number.NaN)), 'facet 1');
    refused(readStl(changed(84 + 50 + 16, Infinity)), 'facet 2');
    refused(readStl(strToU8(`solid part\n${'facet normal 0 0 1\n'.repeat(20)}endsolid`)), 'text form');
  });
  test('a count of four thousand million facets allots nothing', () => {
    const copy = good.slice();
    new DataView(copy.buffer).setUint32(80, 0xffffffff, true);
    refused(readStl(copy), 'the count says');
  });
  test('a view into a larger buffer is read at its own offset', () => {
    const wide = new Uint8Array(good.length + 7);
    wide.set(good, 7);
    expect(readStl(wide.subarray(7)).problems).toEqual([]);
  });
});

describe('broken OBJ', () => {
  const corner = 'v 0 0 0\nv 1 0 0\nv 0 1 0\nv 0 0 1\n';
  test('each fault names its line', () => {
    refused(readObj('v 1 2\n'), 'line 1');
    refused(readObj('v 1 2 nan\n'), 'line 1');
    refused(readObj(`${corner}f 1 2 5\n`), 'line 5');
    refused(readObj(`${corner}f 1 2 0\n`), 'line 5');
    refused(readObj(`${corner}f 1 2\n`), 'line 5');
    refused(readObj(`${corner}f 1 2 -9\n`), 'line 5');
    refused(readObj(`${corner}f 1 2 x\n`), 'line 5');
    refused(readObj(corner), 'no face');
  });
  test('negative numbers, slashes, comments, quads, carried-on lines and foreign lines are understood', () => {
    const { mesh, problems } = readObj(
      `# a tetrahedron and a quad\no part\n${corner}vn 0 0 1\nf 1/1/1 3//1 2\nf -4 -3 -1 # last\ns off\nf 2 3 \\\n4\nf 1 4 3\r\n`,
    );
    expect(problems).toEqual([]);
    expect([...mesh!.triangles]).toEqual([0, 2, 1, 0, 1, 3, 1, 2, 3, 0, 3, 2]);
    expect(mesh!.outward).toBe(true);
    expect(massOfMesh(mesh!).volume).toBeCloseTo(1 / 6, 12);
    expect([...readObj(`${corner}f 1 2 3 4`).mesh!.triangles]).toEqual([0, 1, 2, 0, 2, 3]);
  });
});

describe('broken 3MF', () => {
  const good = unzipSync(write3mf(meshOf(cone(20, 5, 0.1), { tolerance: 0.5 })));
  const model = strFromU8(good['3D/part.model']!);
  const packed = (text: string) => zipSync({ ...good, '3D/part.model': strToU8(text) });
  test('each fault says what is wrong', () => {
    refused(read3mf(strToU8('PK nonsense')), 'zip');
    refused(read3mf(write3mf(meshOf(cone(20, 5, 0.1))).slice(0, 400)), 'zip');
    refused(read3mf(zipSync({ 'a.txt': strToU8('a') })), 'start relationship');
    const { '3D/part.model': _gone, ...rest } = good;
    refused(read3mf(zipSync(rest)), 'model part');
    refused(read3mf(packed(model.replace('"millimeter"', '"furlong"'))), 'furlong');
    refused(read3mf(packed(model.replace('"millimeter"', '"constructor"'))), 'constructor');
    refused(read3mf(packed(model.replace('v1="0"', 'v1="999999"'))), 'no such vertex');
    refused(read3mf(packed(model.replace(/v1="\d+" v2="(\d+)"/, 'v1="$1" v2="$1"'))), 'twice');
    refused(read3mf(packed(model.replace(/ x="[^"]*"/, ' x="1e999"'))), 'finite');
    refused(read3mf(packed(model.replace(/ y="[^"]*"/, ''))), 'finite');
    refused(read3mf(packed(model.replace(/<item[^>]*>/, ''))), 'builds nothing');
    refused(read3mf(packed(model.replace('objectid="1"', 'objectid="7"'))), 'object 7');
    refused(read3mf(packed(model.replace(/<triangle [^>]*>/g, ''))), 'no triangle');
    refused(read3mf(packed('')), 'no model');
  });
  test('a package that claims to swell beyond all bounds is not unpacked', () => {
    const bytes = packed(model);
    const view = new DataView(bytes.buffer, bytes.byteOffset);
    // Uncompressed size in the zip's central directory (signature PK 1 2, 24 bytes on).
    for (let k = 0; k + 46 < bytes.length; k++)
      if (view.getUint32(k, true) === 0x02014b50) view.setUint32(k + 24, 0x7fffffff, true);
    refused(read3mf(bytes), 'more than can be unpacked');
  });
  test('a mesh in inches is read in millimetres', () => {
    const mm = massOfMesh(read3mf(packed(model)).mesh!).volume;
    const inch = massOfMesh(read3mf(packed(model.replace('"millimeter"', '"inch"'))).mesh!).volume;
    expect(inch / mm).toBeCloseTo(25.4 ** 3, 6);
  });
  test('comments, prefixes, single quotes and entities do not mislead', () => {
    const found = [
      ...elementsOf(`<!-- <vertex x="9"/> --><?x <a/> ?><c:vertex x='1' y = "a&amp;b"/><![CDATA[<b/>]]><d>`),
    ];
    expect(found.map((e) => [e.name, { ...e.attributes }])).toEqual([
      ['vertex', { x: '1', y: 'a&b' }],
      ['d', {}],
    ]);
  });
  test('a text of a hundred thousand unclosed comments is walked in one go', () => {
    expect([...elementsOf('<!-- '.repeat(100_000))]).toEqual([]);
    expect([...elementsOf('<a b='.repeat(100_000))]).toEqual([]);
  });
});

describe(`any bytes at all (seed ${SEED})`, () => {
  const calm = (r: Reading) => expect(r.mesh === undefined).toBe(r.problems.length > 0);
  const meshes = meshOf(cone(20, 5, 0.1), { tolerance: 0.5 });
  test('random bytes never throw', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (bytes) => {
        calm(readStl(bytes));
        calm(read3mf(bytes));
        calm(readObj(new TextDecoder().decode(bytes)));
      }),
      { seed: SEED, numRuns: 500 },
    );
  });
  test('good files with a few bytes changed never throw', () => {
    const [stl, tmf, obj] = [writeStl(meshes), write3mf(meshes), strToU8(writeObj(meshes))];
    const spoiled = (bytes: Uint8Array, hits: [number, number][]) => {
      const copy = bytes.slice();
      for (const [at, value] of hits) copy[at % copy.length] = value;
      return copy;
    };
    const hits = fc.array(fc.tuple(fc.nat(), fc.nat(255)), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(hits, (h) => {
        calm(readStl(spoiled(stl, h)));
        calm(read3mf(spoiled(tmf, h)));
        calm(readObj(new TextDecoder().decode(spoiled(obj, h))));
      }),
      { seed: SEED, numRuns: 500 },
    );
  });
  test('random words of the text formats never throw', () => {
    const word = fc.constantFrom(
      'v',
      'f',
      '1',
      '-1',
      '0',
      '1e400',
      '/',
      '\\\n',
      '\n',
      ' ',
      '<model>',
      '<vertex',
      ' x="1"',
      '/>',
      '<object id="1">',
      '<triangle v1="0"',
      '<item objectid="1"/>',
    );
    const { '3D/part.model': _m, ...rest } = unzipSync(write3mf(meshes));
    fc.assert(
      fc.property(fc.array(word, { maxLength: 60 }), (words) => {
        calm(readObj(words.join(' ')));
        calm(read3mf(zipSync({ ...rest, '3D/part.model': strToU8(words.join('')) }, { level: 0 })));
      }),
      { seed: SEED, numRuns: 400 },
    );
  });
});
