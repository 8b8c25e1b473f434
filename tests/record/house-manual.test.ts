import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { houseSchema, readHouse } from '../../src/record/house.ts';

const manual = readFileSync(new URL('../../src/manual/house.md', import.meta.url), 'utf8');

interface SchemaNode {
  readonly properties?: Record<string, SchemaNode>;
  readonly items?: SchemaNode;
  readonly oneOf?: readonly SchemaNode[];
  readonly const?: unknown;
  readonly enum?: readonly unknown[];
}

/** Every field name and every allowed word of the schema. */
function namesOf(node: SchemaNode, names = { fields: new Set<string>(), words: new Set<string>() }) {
  for (const [field, child] of Object.entries(node.properties ?? {})) {
    names.fields.add(field);
    namesOf(child, names);
  }
  if (node.items) namesOf(node.items, names);
  for (const child of node.oneOf ?? []) namesOf(child, names);
  for (const word of [node.const, ...(node.enum ?? [])]) if (typeof word === 'string') names.words.add(word);
  return names;
}

const names = namesOf(z.toJSONSchema(houseSchema, { io: 'input' }) as SchemaNode);

describe('the manual of the House file', () => {
  it('explains every field and every word', () => {
    expect(names.fields.size).toBeGreaterThan(40);
    const missing = [...names.fields, ...names.words].filter((name) => !new RegExp(`[\`."]${name}[\`".]`).test(manual));
    expect(missing).toEqual([]);
  });

  it('names no field that does not exist', () => {
    const named = [...manual.matchAll(/^\| `([a-z_.-]+)` \|/gm)].map((m) => m[1].split('.').at(-1)!);
    expect(named.length).toBeGreaterThan(35);
    expect(named.filter((name) => !names.fields.has(name) && !names.words.has(name))).toEqual([]);
  });

  it('shows an example that can be read', () => {
    const [, example] = /```json\n([\s\S]*?)```/.exec(manual)!;
    expect(readHouse(JSON.parse(example))).toMatchObject({ outcome: 'read' });
  });
});
