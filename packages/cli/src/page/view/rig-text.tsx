import type { ConfigIssue } from '@stayput/core';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Side } from '../state.js';
import type { Store } from '../store.js';
import { WORDS } from '../strings.js';
import { Card, useId } from './elements.js';

/** Larger than any file that people write by hand, and as core takes them [bytes]. */
const MAX_BYTES = 1_000_000;
const TYPING_MS = 250;

/** The files as text: what is typed is read at once, and what is dragged is written here. */
export function Texts({ side, store }: { side: Side; store: Store }) {
  const { refused } = side.answer;
  const issues = (file: 'rig' | 'trip') => (refused?.file === file ? refused.issues : []);
  return (
    <>
      <TextFile
        title={WORDS.rigText}
        about={WORDS.rigTextHint}
        name="rig.yaml"
        text={side.setup.rig}
        issues={issues('rig')}
        change={(rig) => store.change('rig text', { rig })}
      />
      <TextFile
        title={WORDS.tripText}
        name="trip.yaml"
        text={side.setup.trip}
        issues={issues('trip')}
        change={(trip) => store.changeTripText(trip)}
      />
    </>
  );
}

interface TextFileProps {
  readonly title: string;
  readonly about?: string;
  readonly name: string;
  readonly text: string;
  readonly issues: readonly ConfigIssue[];
  readonly change: (text: string) => void;
}

function TextFile({ title, about, name, text, issues, change }: TextFileProps) {
  const id = useId();
  const area = useRef<HTMLTextAreaElement>(null);
  const [typed, setTyped] = useState<string>();
  const [said, setSaid] = useState('');
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  useEffect(() => () => clearTimeout(timer.current), []);
  useEffect(() => setTyped(undefined), [text]);
  const shown = typed ?? text;
  const lines = shown.split('\n');
  const give = (next: string) => {
    setTyped(next);
    clearTimeout(timer.current);
    timer.current = setTimeout(() => change(next), TYPING_MS);
  };
  const open = async (file: File | undefined) => {
    if (!file) return;
    const found = await readText(file);
    if ('why' in found) return setSaid(WORDS.cannotRead(file.name, found.why));
    setSaid('');
    change(found.text);
  };
  const goTo = ({ line = 1, column = 1 }: ConfigIssue) => {
    const at = lines.slice(0, line - 1).reduce((sum, one) => sum + one.length + 1, 0) + column - 1;
    area.current?.focus();
    area.current?.setSelectionRange(at, at + 1);
  };
  const wrong = new Set(issues.map(({ line }) => line));
  return (
    <Card title={title} {...(about !== undefined && { about })}>
      <p class="buttons">
        <label class="button">
          {WORDS.open}
          <input
            class="unseen"
            type="file"
            accept=".yaml,.yml,.json,.txt,text/*"
            onChange={({ currentTarget }) => {
              void open(currentTarget.files?.[0]);
              currentTarget.value = '';
            }}
          />
        </label>
        <button type="button" onClick={() => save(name, shown)}>
          {WORDS.save}
        </button>
        <button
          type="button"
          onClick={() => {
            area.current?.select();
            void copied(shown).then((isDone) => setSaid(isDone ? WORDS.copied : ''));
          }}
        >
          {WORDS.copy}
        </button>
        <span role="status">{said}</span>
      </p>
      {issues.length > 0 && (
        <div class="problems" role="alert" id={`${id}i`}>
          <p>
            <b>{WORDS.issues(issues.length)}</b> {WORDS.lastGood}
          </p>
          <ul>
            {issues.map((issue) => (
              <li key={`${issue.path}${issue.line}${issue.message}`}>
                {issue.line !== undefined && (
                  <button type="button" class="link" onClick={() => goTo(issue)}>
                    {WORDS.issueAt(issue.line, issue.column)}
                  </button>
                )}{' '}
                {issue.path && <code>{issue.path}</code>} {issue.message}
                {issue.hint && ` (${issue.hint})`}
              </li>
            ))}
          </ul>
        </div>
      )}
      <div class="editor">
        <ol aria-hidden="true">
          {lines.map((_, k) => (
            <li key={k} class={wrong.has(k + 1) ? 'wrong' : undefined} />
          ))}
        </ol>
        <textarea
          ref={area}
          id={id}
          aria-label={title}
          aria-invalid={issues.length > 0}
          aria-describedby={issues.length > 0 ? `${id}i` : undefined}
          spellcheck={false}
          autocapitalize="off"
          autocomplete="off"
          rows={lines.length + 1}
          wrap="off"
          value={shown}
          onInput={({ currentTarget }) => give(currentTarget.value)}
          onBlur={() => {
            if (typed === undefined || typed === text) return;
            clearTimeout(timer.current);
            change(typed);
          }}
        />
      </div>
    </Card>
  );
}

async function readText(file: File): Promise<{ text: string } | { why: string }> {
  if (file.size > MAX_BYTES) return { why: WORDS.tooLarge };
  try {
    const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(await file.arrayBuffer());
    return text.includes('\0') ? { why: WORDS.notText } : { text };
  } catch {
    return { why: WORDS.notText };
  }
}

/** A file to keep, made of what is in the page. */
export function save(name: string, text: string, type = 'text/yaml'): void {
  const url = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 1000);
}

async function copied(text: string): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    // pages opened from a file have no clipboard in some browsers: what was selected can be copied the old way
    return document.execCommand('copy');
  }
}
