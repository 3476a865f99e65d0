/** The catalogue: a page for customers, to be printed; a picture, a drawing and the prices of every proven variant. */
import { moneyText } from '../../cam/price/exact.ts';
import { GUARD_NOTE } from '../../cam/sheet/cautions.ts';
import { lengthsIn, safe } from '../../cam/sheet/html.ts';
import type { PriceList, PriceRow } from '../price-list.ts';
import { measuredDrawing } from './drawing.ts';
import { grid, page, right } from './page.ts';
import { pictureOf } from './picture.ts';
import { dataAddress } from './png.ts';
import { counted, thickText } from './words.ts';

/** @param title of the line */
export function catalogueHtml(title: string, list: PriceList): string {
  const guard = list.rows.some((r) => r.variant.part.guard);
  return page(
    `${title}: catalogue`,
    `<header><h1>${safe(title)}</h1>
<p class="lead">${counted(list.rows.length, 'variant')}. Prices are for one piece, before any taxes, by the number ordered at once.</p></header>
${list.rows.map(entry).join('\n')}
${guard ? `<p class="warn">${safe(GUARD_NOTE)}</p>` : ''}
<footer>Wood is never twice the same: tone and grain of the pictures are drawn, not photographed. Measures before finishing.</footer>`,
  );
}

function entry(row: PriceRow): string {
  const { variant, job, report } = row;
  const len = lengthsIn(variant.part.units === 'inch');
  const picture = pictureOf(job.field, job.material);
  const prices = row.breaks.map((c) => [
    c.quantity === 1 ? 'one' : `from ${c.quantity}`,
    right(`${moneyText(c.unit)} ${safe(row.currency)}`),
  ]);
  return `<article id="${variant.slug}"><h2>${safe(variant.name)}</h2>
<p class="lead">${safe(job.material.label)}, ${len(report.part.length)} long, ${thickText(job.blank, report.part.maxRadius, len)} at its thickest</p>
<img class="show" src="${dataAddress(picture.png)}" width="${picture.width}" height="${picture.height}" alt="${safe(variant.name)}, seen from its tail end">
<div class="beside"><figure>${measuredDrawing(job, len)}</figure>${grid(['pieces', right('each')], prices)}</div></article>`;
}
