import type { FindingLine } from '../../words/finding-words.js';
import { drawInPage } from '../charts/draw.js';
import { escaped } from '../escape.js';
import { oneLine } from '../style.js';
import { unitsKept } from '../table.js';
import type { Answer, Block, Page, Section, TableBlock } from './page.js';
import { PAGE_STYLE } from './style.js';

/** One file that holds all it needs: no script, no font, no picture from elsewhere. The same page gives the same bytes. */
export function pageHtml({ title, about, answers, sections }: Page): string {
  const shown = sections
    .map((section) => ({ ...section, blocks: section.blocks.filter((block) => block !== undefined) }))
    .filter(({ blocks }) => blocks.length > 0);
  const contents =
    shown.length > 3
      ? `<nav aria-label="On this page"><ul>${shown.map(({ id, heading }) => `<li><a href="#${id}">${escapedText(heading)}</a></li>`).join('')}</ul></nav>\n`
      : '';
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
${answers.map(answerHtml).join('\n')}
<p class="about">${escapedText(about)}</p>
</header>
${contents}<main>
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

function sectionHtml({ id, heading, blocks }: Section & { blocks: readonly Block[] }): string {
  return `<section aria-labelledby="${id}">
<h2 id="${id}">${escapedText(heading)}</h2>
${besideEachOther(blocks).join('\n')}
</section>`;
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
      return `<ul class="findings">${[...block.findings].sort(byGravity).map(findingHtml).join('')}</ul>`;
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

const GRAVITY = { danger: 0, caution: 1, note: 2 } as const;
const byGravity = (a: FindingLine, b: FindingLine) => GRAVITY[a.level] - GRAVITY[b.level];

function findingHtml({ level, path, text }: FindingLine): string {
  const where = path ? `<code>${escapedText(path)}</code>: ` : '';
  return `<li class="${level}"><strong>${level}</strong> ${where}${escapedText(text)}</li>`;
}

/** Many rows of a few columns stand in two columns on paper. */
const LONG = { rows: 15, columns: 4 } as const;

function tableHtml({ caption, heads, rows }: TableBlock): string {
  const kinds = heads.map(({ isNumber, isText, isExtra }) => {
    const names = [isNumber && 'number', isText && 'words', isExtra && 'extra'].filter(Boolean);
    return names.length > 0 ? ` class="${names.join(' ')}"` : '';
  });
  const head = heads.map(({ text }, k) =>
    text === '' ? `<td${kinds[k]}></td>` : `<th scope="col"${kinds[k]}>${escapedText(text)}</th>`,
  );
  const body = rows.map((cells) => {
    const [first = '', ...rest] = cells.map(escapedText);
    const others = rest.map((cell, k) => `<td${kinds[k + 1]}>${cell}</td>`);
    return `<tr><th scope="row"${kinds[0]}>${first}</th>${others.join('')}</tr>`;
  });
  const more = heads.some(({ isExtra }) => isExtra)
    ? '<span class="less"> (more columns on a wider screen)</span>'
    : '';
  const isLong = rows.length > LONG.rows && heads.length <= LONG.columns;
  return `<div class="scroll${isLong ? ' long' : ''}" role="region" tabindex="0" aria-label="${escapedText(caption)}"><table>
<caption><span>${escapedText(caption)}${more}</span></caption>
<thead><tr>${head.join('')}</tr></thead>
<tbody>
${body.join('\n')}
</tbody>
</table></div>`;
}
