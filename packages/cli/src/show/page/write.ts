import { drawInPage } from '../charts/draw.js';
import { escaped } from '../escape.js';
import { oneLine } from '../style.js';
import { unitsKept } from '../table.js';
import type { Answer, Block, Page, Section, TableBlock } from './page.js';
import { PAGE_STYLE } from './style.js';

/** One file that holds all it needs: no script, no font, no picture from elsewhere. The same page gives the same bytes. */
export function pageHtml({ title, about, largest, answers, helps = [], sections }: Page): string {
  const shown = sections
    .map((section) => ({ ...section, blocks: section.blocks.filter((block) => block !== undefined) }))
    .filter(({ blocks }) => blocks.length > 0);
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${escapedText(title)}</title>
<link rel="icon" href="data:,">
<style>${PAGE_STYLE}</style>
</head>
<body>
<header>
<h1>${escapedText(title)}</h1>
${largest ? `<p class="largest"><strong>${escapedText(largest.figure)}</strong> ${escapedText(largest.words)}</p>\n` : ''}${answers.map(answerHtml).join('\n')}
${helpsHtml(helps)}<p class="about">${escapedText(about)}</p>
</header>
<main>
${shown.map(sectionHtml).join('\n')}
</main>
<footer><p>Made by stayput: estimates, not an electrical design.</p></footer>
</body>
</html>
`;
}

const escapedText = (text: string) => escaped(unitsKept(oneLine(text)));

/** A sign and a word beside the colour, for eyes that do not tell colours apart. */
const TONES = { good: ['✓', 'Good'], low: ['!', 'Low'], bad: ['✗', 'Bad'] } as const;

function answerHtml({ tone, text }: Answer): string {
  const [sign, word] = TONES[tone];
  return `<p class="answer ${tone}"><span class="sign" role="img" aria-label="${word}">${sign}</span> ${escapedText(text)}</p>`;
}

function helpsHtml(helps: readonly string[]): string {
  if (helps.length === 0) return '';
  return `<div class="helps"><p>What would help</p><ul>${helps.map((help) => `<li>${escapedText(help)}</li>`).join('')}</ul></div>\n`;
}

/** What does not go with the answer is folded away; a style sheet unfolds it on paper. */
function sectionHtml({ id, heading, isOpen, blocks }: Section & { blocks: readonly Block[] }): string {
  const title = `<h2 id="${id}">${escapedText(heading)}</h2>`;
  const body = besideEachOther(blocks).join('\n');
  const inside = isOpen ? `${title}\n${body}` : `<details><summary>${title}</summary>\n${body}\n</details>`;
  return `<section aria-labelledby="${id}">\n${inside}\n</section>`;
}

/** Tables that follow on each other share the width of paper. */
function besideEachOther(blocks: readonly Block[]): string[] {
  const shown: string[] = [];
  for (let k = 0; k < blocks.length; ) {
    let end = k;
    while (blocks[end]?.kind === 'table') end++;
    if (end - k < 2) shown.push(blockHtml(blocks[k++]!));
    else {
      shown.push(`<div class="tables">\n${blocks.slice(k, end).map(blockHtml).join('\n')}\n</div>`);
      k = end;
    }
  }
  return shown;
}

function blockHtml(block: Block): string {
  switch (block.kind) {
    case 'text':
      return `<p>${escapedText(block.text)}</p>`;
    case 'heading':
      return `<h3>${escapedText(block.text)}</h3>`;
    case 'list':
      return `<ul>${block.items.map((item) => `<li>${escapedText(item)}</li>`).join('')}</ul>`;
    case 'terms':
      return `<dl>${block.entries.map(([term, words]) => `<div><dt>${escapedText(term)}</dt><dd>${escapedText(words)}</dd></div>`).join('')}</dl>`;
    case 'findings':
      return `<ul class="findings">${block.findings.map(({ level, text }) => `<li class="${level}"><strong>${level}</strong> ${escapedText(text)}</li>`).join('')}</ul>`;
    case 'chart': {
      const { title, subtitle, foot } = block.chart;
      return `<figure>
<figcaption><strong>${escapedText(title)}</strong><br>${escapedText(subtitle)}</figcaption>
<div class="wide">${drawInPage(block.chart, 'wide')}</div>
<div class="narrow">${drawInPage(block.chart, 'narrow')}</div>
<p class="foot">${escapedText(foot)}</p>
</figure>`;
    }
    case 'table':
      return tableHtml(block);
  }
}

/** Many rows of a few columns stand in two columns on paper. */
const LONG = { rows: 15, columns: 4 } as const;
/** A table of no more rows stands on one sheet. */
const SHORT_ROWS = 40;

/** Roles are said again, as a table whose rows are laid out as lines on a phone would lose them to some readers. */
function tableHtml({ caption, heads, rows, isBroad }: TableBlock): string {
  const kinds = heads.map(({ isNumber, isText }) => {
    const names = [isNumber && 'number', isText && 'words'].filter(Boolean);
    return names.length > 0 ? ` class="${names.join(' ')}"` : '';
  });
  const role = (name: string) => (isBroad ? ` role="${name}"` : '');
  const head = heads.map(({ text }, k) =>
    text === ''
      ? `<td${role('cell')}${kinds[k]}></td>`
      : `<th scope="col"${role('columnheader')}${kinds[k]}>${escapedText(text)}</th>`,
  );
  const body = rows.map((cells) => {
    const [first = '', ...rest] = cells.map(escapedText);
    const others = rest.map((cell, k) => {
      const about = heads[k + 1]!.text;
      const label = isBroad && about !== '' && cell !== '' ? `<span class="of">${escapedText(about)} </span>` : '';
      return `<td${role('cell')}${kinds[k + 1]}>${label}${cell}</td>`;
    });
    return `<tr${role('row')}><th scope="row"${role('rowheader')}${kinds[0]}>${first}</th>${others.join('')}</tr>`;
  });
  const isLong = rows.length > LONG.rows && heads.length <= LONG.columns;
  const isShort = rows.length <= SHORT_ROWS;
  const names = ['scroll', isLong && 'long', isShort && 'short', isBroad && 'broad'].filter(Boolean).join(' ');
  return `<div class="${names}" role="region" tabindex="0" aria-label="${escapedText(caption)}"><table${role('table')}>
<caption><span>${escapedText(caption)}</span></caption>
<thead${role('rowgroup')}><tr${role('row')}>${head.join('')}</tr></thead>
<tbody${role('rowgroup')}>
${body.join('\n')}
</tbody>
</table></div>`;
}
