import type { ConfigIssue, DefaultTaken } from '@stayput/core';
import type { Path } from '@stayput/core/model';
import { useEffect, useState } from 'preact/hooks';
import type { Edit } from '../protocol.js';
import { exampleOf, hasField, isGroup, keyWords, pathText, type Schema, typedValue, variantOf } from '../schema.js';
import type { Side } from '../state.js';
import type { Store } from '../store.js';
import { WORDS } from '../strings.js';
import { Card, useId } from './elements.js';

interface Around {
  readonly defaults: ReadonlyMap<string, DefaultTaken>;
  readonly issues: readonly ConfigIssue[];
  readonly edit: (key: string, edit: Omit<Edit, 'file'>) => void;
}

/** The rig as fields, made from the schema of its file; what is left empty shows the default that is taken, and why. */
export function RigForm({ side, store }: { side: Side; store: Store }) {
  const { schema } = store.state;
  useEffect(() => store.wantSchema(), [store]);
  const { values, checked, refused } = side.answer;
  if (!schema || !isGroup(values)) return null;
  const around: Around = {
    defaults: new Map((checked?.defaults ?? []).map((one) => [one.path, one])),
    issues: refused?.file === 'rig' ? refused.issues : [],
    edit: (key, edit) => store.edit(key, { file: 'rig', ...edit }),
  };
  return (
    <Card title={WORDS.form} about={WORDS.formAbout}>
      <Group schema={schema} value={values} path={[]} around={around} />
    </Card>
  );
}

interface Placed {
  readonly schema: Schema;
  readonly value: unknown;
  readonly path: Path;
  readonly around: Around;
}

/** What is written first, and what else could be behind a summary. */
function Group({ schema, value, path, around }: Placed) {
  const variant = variantOf(schema, value);
  const given = isGroup(value) ? value : {};
  const keys = Object.keys(variant.properties ?? {}).filter(
    (key) => hasField(variant.properties![key]!) && variant.properties![key]!.const === undefined,
  );
  const isShown = (key: string) => given[key] !== undefined || variant.required?.includes(key);
  const [shown, more] = [keys.filter(isShown), keys.filter((key) => !isShown(key))];
  const field = (key: string) => (
    <Field
      key={key}
      name={key}
      schema={variant.properties![key]!}
      value={given[key]}
      path={[...path, key]}
      around={around}
    />
  );
  return (
    <>
      {shown.map(field)}
      {more.length > 0 && (
        <details>
          <summary>{WORDS.formMore(more.map(keyWords))}</summary>
          {more.map(field)}
        </details>
      )}
    </>
  );
}

function Field({ name, ...placed }: Placed & { name: string }) {
  const { schema, value, path, around } = placed;
  const isPart = schema.properties !== undefined || schema.oneOf !== undefined;
  const key = pathText(path);
  if (schema.type === 'array') return <List name={name} {...placed} />;
  if (!isPart) return <Entry name={name} {...placed} />;
  if (value === undefined)
    return (
      <p class="absent">
        <button type="button" onClick={() => around.edit(key, { path, value: exampleOf(schema) })}>
          {WORDS.formAdd(keyWords(name))}
        </button>{' '}
        <span class="about">{schema.description}</span>
      </p>
    );
  return (
    <details class="part" open={path.length === 1}>
      <summary>{keyWords(name)}</summary>
      <Group {...placed} />
      <button type="button" onClick={() => around.edit(`${key} gone`, { path, isRemoved: true })}>
        {WORDS.formRemove(keyWords(name))}
      </button>
    </details>
  );
}

function List({ name, schema, value, path, around }: Placed & { name: string }) {
  const items = Array.isArray(value) ? value : [];
  const kinds = schema.items?.oneOf ?? [schema.items!];
  const key = pathText(path);
  return (
    <div class="list">
      {items.map((item, k) => {
        const title = isGroup(item) && typeof item.name === 'string' ? item.name : `${keyWords(name)} ${k + 1}`;
        return (
          <details class="part" key={k}>
            <summary>{title}</summary>
            <Group schema={schema.items!} value={item} path={[...path, k]} around={around} />
            <button
              type="button"
              onClick={() => around.edit(`${key}[${k}] gone`, { path: [...path, k], isRemoved: true })}
            >
              {WORDS.formRemove(title)}
            </button>
          </details>
        );
      })}
      <p class="buttons">
        {kinds.map((kind) => (
          <button
            type="button"
            key={kind.description}
            onClick={() =>
              around.edit(`${key} more`, {
                path: value === undefined ? path : [...path, items.length],
                value: value === undefined ? [begun(kind, items.length)] : begun(kind, items.length),
              })
            }
          >
            {WORDS.formAdd(kind.description ?? keyWords(name))}
          </button>
        ))}
      </p>
    </div>
  );
}

/** A new item has a name that no other has, and something to use or give. */
function begun(kind: Schema, count: number): unknown {
  const example = exampleOf(kind) as Record<string, unknown>;
  const { power, name } = kind.properties ?? {};
  return {
    ...(name && { name: `${kind.properties?.kind?.const === 'fridge' ? 'fridge' : 'new'} ${count + 1}` }),
    ...(power && { power: String(exampleOf(power)) }),
    ...Object.fromEntries(Object.entries(example).filter(([key]) => key !== 'name')),
  };
}

function Entry({ name, schema, value, path, around }: Placed & { name: string }) {
  const id = useId();
  const [typed, setTyped] = useState<string>();
  const key = pathText(path);
  const taken = around.defaults.get(key);
  const issue = around.issues.find((one) => one.path === key);
  const now = value === undefined || value === null ? '' : String(value);
  useEffect(() => setTyped(undefined), [now]);
  const give = (text: string) => {
    const next = typedValue(schema, text);
    if (String(next ?? '') === now) return;
    around.edit(key, next === undefined ? { path, isRemoved: true } : { path, value: next });
  };
  const choices = schema.enum ?? (schema.type === 'boolean' ? [true, false] : undefined);
  const about = value === undefined && taken ? `${schema.description ?? ''} (${taken.why})` : schema.description;
  return (
    <div class={value === undefined ? 'entry unset' : 'entry'}>
      <label for={id}>{keyWords(name)}</label>
      {choices ? (
        <select
          id={id}
          data-path={key}
          value={now}
          aria-describedby={`${id}d`}
          onChange={({ currentTarget }) => give(currentTarget.value)}
        >
          <option value="">{taken ? WORDS.formDefault(taken.text) : WORDS.formUnset}</option>
          {choices.map((choice) => (
            <option key={String(choice)} value={String(choice)}>
              {String(choice)}
            </option>
          ))}
        </select>
      ) : (
        <input
          id={id}
          data-path={key}
          value={typed ?? now}
          placeholder={taken?.text ?? (schema.examples ? WORDS.formExample(String(schema.examples[0])) : '')}
          autocomplete="off"
          autocapitalize="off"
          aria-invalid={issue !== undefined}
          aria-describedby={`${id}d`}
          onInput={({ currentTarget }) => setTyped(currentTarget.value)}
          onChange={({ currentTarget }) => give(currentTarget.value)}
        />
      )}
      <span class="about" id={`${id}d`}>
        {about}
        {issue && (
          <b class="wrong">
            {' '}
            {issue.message}
            {issue.hint && ` (${issue.hint})`}
          </b>
        )}
      </span>
    </div>
  );
}
