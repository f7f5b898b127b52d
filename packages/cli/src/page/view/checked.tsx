import type { Checked } from '../protocol.js';
import { WORDS } from '../strings.js';
import { Card } from './elements.js';

const GRAVEST_FIRST = { danger: 0, caution: 1, note: 2 } as const;

/** What is to be known of the rig, as `check` tells it. */
export function Findings({ checked, isShort }: { checked: Checked; isShort: boolean }) {
  const all = [...checked.findings].sort((a, b) => GRAVEST_FIRST[a.level] - GRAVEST_FIRST[b.level]);
  const shown = isShort ? all.filter(({ level }) => level !== 'note') : all;
  if (isShort && shown.length === 0) return null;
  return (
    <Card title={isShort ? WORDS.trouble : WORDS.findings}>
      {shown.length === 0 && <p>{WORDS.noFindings}</p>}
      <ul class="findings">
        {shown.map(({ level, path, text, code }) => (
          <li key={`${code}${path}${text}`} class={level}>
            <b>{WORDS.levels[level]}</b> {text}
          </li>
        ))}
      </ul>
    </Card>
  );
}

export function InWords({ checked }: { checked: Checked }) {
  return (
    <Card title={WORDS.described}>
      {checked.described.map(({ heading, lines }) => (
        <div key={heading}>
          <h3>{heading}</h3>
          {lines.map((line) => (
            <p key={line}>{line}</p>
          ))}
        </div>
      ))}
      <details>
        <summary>{WORDS.defaults(checked.defaults.length)}</summary>
        <dl class="defaults">
          {checked.defaults.map(({ path, text, why }) => (
            <div key={path}>
              <dt>
                <code>{path}</code>
              </dt>
              <dd>
                {text}: {why}
              </dd>
            </div>
          ))}
        </dl>
      </details>
    </Card>
  );
}
