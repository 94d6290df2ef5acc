/** The preview as one HTML page: text, style and pictures in one file, nothing fetched and nothing run. */
import { createHash } from 'node:crypto';
import { wordsFor } from '../paper-words/index.ts';
import type { PreviewData, PreviewKnife } from './preview-data.ts';

const signs: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text that cannot become markup. */
const safe = (text: string): string => text.replace(/[&<>"']/g, (sign) => signs[sign] ?? sign);

const paragraphs = (text: string): string =>
  text
    .split('\n')
    .filter((line) => line.trim() !== '')
    .map((line) => `<p dir="auto">${safe(line)}</p>`)
    .join('');

const style = `
:root{color-scheme:light dark;--ground:#f3ecdd;--sheet:#fbf8f0;--ink:#211d17;--soft:#584f42;--rule:#d3c8b2}
@media(prefers-color-scheme:dark){:root{--ground:#151310;--sheet:#1e1b17;--ink:#ece5d7;--soft:#b6ac9a;--rule:#3a342b}}
*{box-sizing:border-box}
body{margin:0;background:var(--ground);color:var(--ink);font:1rem/1.5 system-ui,sans-serif;overflow-wrap:anywhere}
main{max-width:64rem;margin:0 auto;padding:2rem 1.25rem 3rem}
h1{margin:.25rem 0 .75rem;font-size:2rem;line-height:1.15}
h2{margin:0;font-size:1.25rem;line-height:1.25}
h3{margin:1.5rem 0 .25rem;font-size:1rem}
p{margin:0 0 .5rem}
.kicker,.quiet,dt{color:var(--soft);font-size:.875rem}
.facts{display:grid;grid-template-columns:repeat(auto-fit,minmax(13rem,1fr));margin:1.5rem 0;border-top:1px solid var(--rule)}
.facts div{padding:.625rem 1rem .625rem 0;border-bottom:1px solid var(--rule)}
dd{margin:0;font-variant-numeric:tabular-nums}
article{display:grid;grid-template-columns:minmax(0,2fr) minmax(0,3fr);gap:1.5rem;margin:0 0 1.25rem;padding:1.25rem;background:var(--sheet);border:1px solid var(--rule);border-radius:.25rem;break-inside:avoid}
figure{margin:0}
img{display:block;width:100%;max-height:22rem;object-fit:contain}
.none{display:grid;place-items:center;min-height:9rem;border:1px dashed var(--rule);color:var(--soft);font-size:.875rem}
header.knife{display:flex;flex-wrap:wrap;justify-content:space-between;gap:.25rem 1rem;margin-bottom:.625rem}
.price{margin-left:auto;text-align:right;font-variant-numeric:tabular-nums}
.price strong{font-size:1.25rem;white-space:nowrap}
.state{margin-left:.5rem;padding:.0625rem .5rem;border:1px solid currentColor;border-radius:1rem;font-size:.8125rem}
.figures{display:grid;grid-template-columns:max-content minmax(0,1fr);gap:.25rem 1rem;margin:.75rem 0 0}
.remark{margin-top:.75rem;padding-left:.75rem;border-left:3px solid var(--rule)}
footer{margin-top:2rem;padding-top:1rem;border-top:1px solid var(--rule)}
@media(max-width:40rem){article{grid-template-columns:1fr}.price{margin-left:0;text-align:left}}
@media print{:root{--ground:#fff;--sheet:#fff;--ink:#000;--soft:#444;--rule:#999}main{padding:0;max-width:none}body{font-size:10pt}article{grid-template-columns:2fr 3fr}}
`.trim();

const rows = (pairs: PreviewData['facts'], around: (inner: string) => string): string =>
  pairs.map(({ label, text }) => around(`<dt>${safe(label)}</dt><dd dir="auto">${safe(text)}</dd>`)).join('');

function knifeText(knife: PreviewKnife, photo: string | undefined, noPhoto: string): string {
  const picture =
    photo === undefined
      ? `<div class="none">${safe(noPhoto)}</div>`
      : `<img src="${photo}" alt="${safe(`${knife.serial}, ${knife.title}`)}">`;
  const state = knife.state === '' ? '' : `<span class="state">${safe(knife.state)}</span>`;
  const remarks = knife.remarks
    .map(({ heading, text }) => `<p class="remark"><strong>${safe(heading)}</strong> ${safe(text)}</p>`)
    .join('');
  return [
    '<article>',
    `<figure>${picture}</figure>`,
    '<div>',
    `<header class="knife"><div><h2 dir="auto">${safe(knife.title)}</h2><span class="quiet">${safe(knife.serial)}</span>${state}</div>`,
    `<div class="price"><strong>${safe(knife.price)}</strong><br><span class="quiet">${safe(knife.shipping)}</span></div></header>`,
    paragraphs(knife.words),
    `<dl class="figures">${rows(knife.figures, (inner) => inner)}</dl>`,
    remarks,
    '</div>',
    '</article>',
  ].join('\n');
}

interface Shop {
  readonly name: string;
  readonly maker: string;
  readonly email: string;
  readonly phone: string;
  readonly website: string;
}

/**
 * The whole page.
 * @param photos data addresses by knife
 */
export function pageText(data: PreviewData, shop: Shop, photos: ReadonlyMap<string, string>): string {
  const words = wordsFor(data.language).preview;
  // Only this very style may be used, pictures only from inside the page, and nothing else at all.
  const hash = createHash('sha256').update(style, 'utf8').digest('base64');
  const policy = `default-src 'none'; img-src data:; style-src 'sha256-${hash}'`;
  const contact = [shop.maker, shop.email, shop.phone, shop.website].filter((part) => part !== '');
  return [
    '<!doctype html>',
    `<html lang="${data.language}">`,
    '<head>',
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${safe(policy)}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    '<meta name="referrer" content="no-referrer">',
    `<title>${safe(`${data.title}, ${shop.name}`)}</title>`,
    `<style>${style}</style>`,
    '</head>',
    '<body>',
    '<main>',
    `<p class="kicker">${safe(shop.name)} · ${safe(words.kicker(data.tag))} · ${safe(words.knives(data.knives.length))}</p>`,
    `<h1 dir="auto">${safe(data.title)}</h1>`,
    ...data.intro.map(paragraphs),
    `<dl class="facts">${rows(data.facts, (inner) => `<div>${inner}</div>`)}</dl>`,
    ...data.knives.map((knife) => knifeText(knife, photos.get(knife.buildId), words.noPhoto)),
    ...data.notes.map(({ heading, text }) => `<h3>${safe(heading)}</h3>${paragraphs(text)}`),
    `<footer class="quiet">${safe(contact.join(' · '))}<br>${safe(words.made(data.madeOn))}</footer>`,
    '</main>',
    '</body>',
    '</html>',
    '',
  ].join('\n');
}
