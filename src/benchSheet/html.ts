/** A page as a document of its own: HTML with its drawings as SVG. */
import { letters, READ, type BenchPage, type Block, type Drawing, type Mark } from './page.ts';

const ESCAPED: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };
const plain = (words: string): string => words.replace(/[&<>"]/g, (c) => ESCAPED[c]!);

const markText = (mark: Mark): string =>
  mark.kind === 'path'
    ? `<path class="${mark.look}" d="${mark.d}"/>`
    : `<text x="${mark.x.toFixed(2)}" y="${mark.y.toFixed(2)}" text-anchor="${mark.anchor}"${mark.turned ? ` transform="rotate(-90 ${mark.x.toFixed(2)} ${mark.y.toFixed(2)})"` : ''}>${plain(mark.text)}</text>`;

const drawingText = ({ width, height, marks, says }: Drawing): string =>
  `<svg role="img" aria-label="${plain(says)}" width="${letters(width)}" height="${letters(height)}" viewBox="0 0 ${width.toFixed(3)} ${height.toFixed(3)}">${marks.map(markText).join('')}</svg>`;

function tableText({ head, rows, title, tight = false }: Extract<Block, { kind: 'table' }>): string {
  const top =
    head.length === 0
      ? ''
      : `<thead><tr>${head.map((cell, i) => (i === 0 && cell === '' ? '<td></td>' : `<th scope="col"${cell === READ ? ' class="read"' : ''}>${plain(cell)}</th>`)).join('')}</tr></thead>`;
  const body = rows.map(
    ([first = '', ...rest]) =>
      `<tr><th scope="row">${plain(first)}</th>${rest.map((cell) => `<td>${plain(cell)}</td>`).join('')}</tr>`,
  );
  const kind = (head.length === 0 ? 'pairs' : 'figures') + (tight ? ' tight' : '');
  return `<div class="scroll"><table class="${kind}" aria-label="${plain(title)}">${top}<tbody>${body.join('')}</tbody></table></div>`;
}

function blockText(block: Block): string {
  const inside = ((): string => {
    switch (block.kind) {
      case 'drawing':
        return `<div class="scroll">${drawingText(block.drawing)}</div>`;
      case 'table':
        return tableText(block) + (block.note === '' ? '' : `<p>${plain(block.note)}</p>`);
      case 'list':
        return `<dl>${block.items.map(({ what, says }) => `<div><dt>${plain(what)}</dt><dd>${plain(says)}</dd></div>`).join('')}</dl>`;
      case 'text':
        return `<p>${plain(block.says)}</p>`;
      case 'code':
        return `<div>${block.drawing ? drawingText(block.drawing) : ''}<p>${plain(block.says)}</p></div>`;
    }
  })();
  return `<section class="${block.kind}"><h2>${plain(block.title)}${block.kind === 'drawing' ? ` <small>${plain(block.note)}</small>` : ''}</h2>${inside}</section>`;
}

/** The page itself. */
export function pageText({ paper, title, of, notes, facts, bands }: BenchPage): string {
  const head = `<header><div><h1>${plain(title)}</h1><p>Bench sheet · ${plain(of)}</p></div><dl>${facts.map(({ what, says }) => `<div><dt>${plain(what)}</dt><dd>${plain(says)}</dd></div>`).join('')}</dl></header>`;
  const said = notes === '' ? '' : `<p class="notes">${plain(notes)}</p>`;
  const body = bands.map(
    (columns) =>
      `<div class="band">${columns.map((blocks) => `<div class="column">${blocks.map(blockText).join('')}</div>`).join('')}</div>`,
  );
  return `<article class="bench-page ${paper}">${head}${said}${body.join('')}</article>`;
}

/** @param styles of page.css */
export const documentText = (page: BenchPage, styles: string): string =>
  `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${plain(page.title)}: bench sheet</title>
<style>
${styles}</style>
<body class="bench-alone">
${pageText(page)}
</body>
</html>
`;
