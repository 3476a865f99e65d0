/**
 * 3MF, written and read. After the 3MF Core Specification 1.4.0 (3MF Consortium): an OPC package (a zip with content
 * types and a start relationship, ECMA-376 part 2) with one model part; unit millimeter. Names and media types below are
 * those of its appendix C.
 */
import { strFromU8, strToU8, unzipSync, type Zippable, zipSync } from 'fflate';
import { MM_PER_INCH } from '../../shared/units.ts';
import { coordinateText, type Mesh, massOfMesh } from './mesh.ts';
import { fileProblem, type Reading } from './reading.ts';
import { elementsOf } from './xml.ts';

const CORE = 'http://schemas.microsoft.com/3dmanufacturing/core/2015/02';
const START = 'http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel';
const MODEL_TYPE = 'application/vnd.ms-package.3dmanufacturing-3dmodel+xml';
const RELATIONS_TYPE = 'application/vnd.openxmlformats-package.relationships+xml';
const MODEL_PATH = '3D/part.model';
const PROLOGUE = '<?xml version="1.0" encoding="UTF-8"?>\n';
/** The earliest time a zip can hold: the same mesh gives the same bytes whenever it is written. */
const ZIP_TIME = '1980-01-01T00:00:00';
/** Largest model text that is unpacked, bytes: a small package could otherwise swell without end. */
const LARGEST_MODEL = 1 << 29;

const MM_PER: Record<string, number> = {
  micron: 0.001,
  millimeter: 1,
  centimeter: 10,
  inch: MM_PER_INCH,
  foot: 12 * MM_PER_INCH,
  meter: 1000,
};

/**
 * Writes a mesh as a package. The build item lifts the part into the positive octant, as the specification advises
 * (§3.3); the points themselves stay in the part frame.
 */
export function write3mf(mesh: Mesh): Uint8Array {
  const { positions: p, triangles: t } = mesh;
  const text = (k: number) => coordinateText(p, k);
  const low = [0, 0, 0];
  for (let k = 0; k < p.length; k++) low[k % 3] = Math.min(low[k % 3]!, p[k]!);
  const shift = low.map((c) => (c === 0 ? 0 : -c));
  const lines = [
    `${PROLOGUE}<model unit="millimeter" xml:lang="en-US" xmlns="${CORE}">`,
    '<resources><object id="1" type="model"><mesh><vertices>',
  ];
  for (let k = 0; k < p.length; k += 3) lines.push(`<vertex x="${text(k)}" y="${text(k + 1)}" z="${text(k + 2)}"/>`);
  lines.push('</vertices><triangles>');
  for (let k = 0; k < t.length; k += 3) lines.push(`<triangle v1="${t[k]}" v2="${t[k + 1]}" v3="${t[k + 2]}"/>`);
  lines.push('</triangles></mesh></object></resources>');
  lines.push(`<build><item objectid="1" transform="1 0 0 0 1 0 0 0 1 ${shift.join(' ')}"/></build></model>\n`);
  const types =
    `${PROLOGUE}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">` +
    `<Default Extension="rels" ContentType="${RELATIONS_TYPE}"/>` +
    `<Default Extension="model" ContentType="${MODEL_TYPE}"/></Types>\n`;
  const relations =
    `${PROLOGUE}<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` +
    `<Relationship Target="/${MODEL_PATH}" Id="rel0" Type="${START}"/></Relationships>\n`;
  const files: Zippable = {
    '[Content_Types].xml': strToU8(types),
    '_rels/.rels': strToU8(relations),
    [MODEL_PATH]: strToU8(lines.join('\n')),
  };
  return zipSync(files, { mtime: ZIP_TIME, level: 4 });
}

/** Reads the first build item's mesh of a package, in mm. Points are given without the item's transform. */
export function read3mf(bytes: Uint8Array): Reading {
  const bad = (message: string, allowed?: string): Reading => ({ problems: [fileProblem('3MF', message, allowed)] });
  let files: Record<string, Uint8Array>;
  let swollen = false;
  try {
    files = unzipSync(bytes, {
      filter: (f) => {
        swollen ||= f.originalSize > LARGEST_MODEL;
        return !swollen && /(\.rels|\.model)$/i.test(f.name);
      },
    });
  } catch {
    return bad('this is no zip package that can be unpacked');
  }
  if (swollen) return bad('the package holds more than can be unpacked', `${LARGEST_MODEL} bytes`);
  const relations = files['_rels/.rels'];
  if (!relations) return bad('the package has no start relationship', '_rels/.rels');
  let target: string | undefined;
  for (const e of elementsOf(strFromU8(relations)))
    if (e.name === 'Relationship' && e.attributes.Type === START) target ??= e.attributes.Target;
  const model = target === undefined ? undefined : files[target.replace(/^\//, '')];
  if (!model) return bad('the start relationship leads to no model part');
  return readModel(strFromU8(model), bad);
}

interface Found {
  coordinates: number[];
  triangles: number[];
}

function readModel(text: string, bad: (message: string, allowed?: string) => Reading): Reading {
  const objects = new Map<string, Found>();
  let scale: number | undefined;
  let at: Found | undefined;
  let chosen: string | undefined;
  for (const { name, attributes } of elementsOf(text)) {
    if (name === 'model') {
      if (scale !== undefined) return bad('more than one model element', 'exactly one');
      const unit = attributes.unit ?? 'millimeter';
      scale = Object.hasOwn(MM_PER, unit) ? MM_PER[unit] : undefined;
      if (scale === undefined) return bad(`unit "${unit}" is none of the format's`, Object.keys(MM_PER).join(', '));
    } else if (name === 'object') {
      at = { coordinates: [], triangles: [] };
      objects.set(attributes.id ?? '', at);
    } else if (name === 'vertex' && at) {
      const xyz = ['x', 'y', 'z'].map((k) => Number(attributes[k] ?? Number.NaN) * (scale ?? 1));
      if (!xyz.every(Number.isFinite)) return bad(`vertex ${at.coordinates.length / 3} is not three finite numbers`);
      at.coordinates.push(...xyz);
    } else if (name === 'triangle' && at) {
      const v = ['v1', 'v2', 'v3'].map((k) => (/^\d+$/.test(attributes[k] ?? '') ? Number(attributes[k]) : -1));
      const count = at.coordinates.length / 3;
      if (v.some((k) => k < 0 || k >= count))
        return bad(`triangle ${at.triangles.length / 3} names no such vertex`, `0 to ${count - 1}`);
      if (new Set(v).size < 3)
        return bad(`triangle ${at.triangles.length / 3} names a vertex twice`, 'three distinct vertices');
      at.triangles.push(...v);
    } else if (name === 'item') chosen ??= attributes.objectid ?? '';
  }
  if (scale === undefined) return bad('the model part has no model element');
  if (chosen === undefined) return bad('the model builds nothing', 'a build item');
  const found = objects.get(chosen);
  if (!found) return bad(`the build item names object ${chosen}, which is not there`);
  if (found.triangles.length === 0) return bad(`object ${chosen} has no triangle`);
  const mesh = { positions: Float64Array.from(found.coordinates), triangles: Uint32Array.from(found.triangles) };
  return { mesh: { ...mesh, outward: massOfMesh(mesh).volume > 0 }, problems: [] };
}
