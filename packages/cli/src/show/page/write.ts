import type { Finding } from '@stayput/core';
import { drawInPage } from '../charts/draw.js';
import { escaped } from '../escape.js';
import { oneLine } from '../style.js';
import type { Answer, Block, Page, Section, TableBlock } from './page.js';
import { PAGE_STYLE } from './style.js';

/** One file that holds all it needs: no script, no font, no picture from elsewhere. The same page gives the same bytes. */
export function pageHtml({ title, about, answers, sections }: Page): string {
  const shown = sections
    .map((section) => ({ ...section, blocks: section.blocks.filter((block) => block !== undefined) }))
    .filter(({ blocks }) => blocks.length > 0);
  const contents =
    shown.length > 3
      ? `<nav aria-label="On this page"><ul>${shown.map(({ id, heading }) => `<li><a href="#${id}">${told(heading)}</a></li>`).join('')}</ul></nav>\n`
      : '';
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${told(title)}</title>
<link rel="icon" href="data:,">
<style>${PAGE_STYLE}</style>
</head>
<body>
<header>
<h1>${told(title)}</h1>
${answers.map(answerHtml).join('\n')}
<p class="about">${told(about)}</p>
</header>
${contents}<main>
${shown.map(sectionHtml).join('\n')}
</main>
<footer><p>Made by stayput: estimates, not an electrical design.</p></footer>
</body>
</html>
`;
}

const told = (text: string) => escaped(oneLine(text));

/** A sign and a word beside the colour, for eyes that do not tell colours apart. */
const TONES = { good: ['✓', 'Good'], low: ['!', 'Low'], bad: ['✗', 'Bad'] } as const;

function answerHtml({ tone, text }: Answer): string {
  const [sign, word] = TONES[tone];
  return `<p class="answer ${tone}"><span class="sign" role="img" aria-label="${word}">${sign}</span> ${told(text)}</p>`;
}

function sectionHtml({ id, heading, blocks }: Section & { blocks: readonly Block[] }): string {
  return `<section aria-labelledby="${id}">
<h2 id="${id}">${told(heading)}</h2>
${blocks.map(blockHtml).join('\n')}
</section>`;
}

function blockHtml(block: Block): string {
  switch (block.kind) {
    case 'text':
      return `<p>${told(block.text)}</p>`;
    case 'heading':
      return `<h3>${told(block.text)}</h3>`;
    case 'list':
      return `<ul>${block.items.map((item) => `<li>${told(item)}</li>`).join('')}</ul>`;
    case 'terms':
      return `<dl>${block.entries.map(([term, words]) => `<div><dt>${told(term)}</dt><dd>${told(words)}</dd></div>`).join('')}</dl>`;
    case 'findings':
      return `<ul class="findings">${[...block.findings].sort(byGravity).map(findingHtml).join('')}</ul>`;
    case 'chart': {
      const { title, subtitle, foot } = block.chart;
      return `<figure>
<figcaption><strong>${told(title)}</strong><br>${told(subtitle)}</figcaption>
<div class="wide">${drawInPage(block.chart, 'wide')}</div>
<div class="narrow">${drawInPage(block.chart, 'narrow')}</div>
<p class="foot">${told(foot)}</p>
</figure>`;
    }
    case 'table':
      return tableHtml(block);
  }
}

const GRAVITY = { danger: 0, caution: 1, note: 2 } as const;
const byGravity = (a: Finding, b: Finding) => GRAVITY[a.level] - GRAVITY[b.level];

function findingHtml({ level, path, text }: Finding): string {
  const where = path ? `<code>${told(path)}</code>: ` : '';
  return `<li class="${level}"><strong>${level}</strong> ${where}${told(text)}</li>`;
}

function tableHtml({ caption, heads, rows }: TableBlock): string {
  const kind = (k: number) => (heads[k]!.isNumber ? ' class="number"' : '');
  const head = heads.map(({ text }, k) =>
    text === '' ? `<td${kind(k)}></td>` : `<th scope="col"${kind(k)}>${told(text)}</th>`,
  );
  const body = rows.map(
    (cells) =>
      `<tr>${cells.map((cell, k) => (k === 0 ? `<th scope="row"${kind(k)}>${told(cell)}</th>` : `<td${kind(k)}>${told(cell)}</td>`)).join('')}</tr>`,
  );
  return `<div class="scroll" role="region" tabindex="0" aria-label="${told(caption)}"><table>
<caption>${told(caption)}</caption>
<thead><tr>${head.join('')}</tr></thead>
<tbody>
${body.join('\n')}
</tbody>
</table></div>`;
}
