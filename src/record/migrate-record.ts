/**
 * Records of older versions -> the present one. Each step is data: from which version to which, and what changes. A record
 * on disk is never rewritten; it is brought up to date each time it is read.
 */

export interface Migration {
  readonly from: number;
  readonly to: number;
  /** Takes the parsed JSON of the one version and gives that of the other, its `schema` included. */
  readonly migrate: (record: Readonly<Record<string, unknown>>) => Record<string, unknown>;
}

export interface RecordKind {
  /** `twinplumb.entry`; a record says `twinplumb.entry/1`. */
  readonly name: string;
  readonly latest: number;
  readonly migrations: readonly Migration[];
}

export type Migrated =
  | { readonly outcome: 'current'; readonly record: Readonly<Record<string, unknown>> }
  | { readonly outcome: 'newer'; readonly schema: string; readonly supported: string }
  | { readonly outcome: 'stranger' };

/** Throws a RangeError where the list of migrations leads nowhere: that is a fault of the program. */
export function migrateRecord(json: unknown, { name, latest, migrations }: RecordKind): Migrated {
  const version = versionOf(json, name);
  if (version === undefined) return { outcome: 'stranger' };
  const supported = `${name}/${latest}`;
  if (version > latest) return { outcome: 'newer', schema: `${name}/${version}`, supported };
  let record = json as Readonly<Record<string, unknown>>;
  for (let at = version; at < latest; ) {
    const step = migrations.find(({ from }) => from === at);
    if (!step || step.to <= at) throw new RangeError(`no way from ${name}/${at} to ${supported}`);
    record = step.migrate(record);
    at = step.to;
    if (record.schema !== `${name}/${at}`) throw new RangeError(`the migration to ${name}/${at} left another schema`);
  }
  return { outcome: 'current', record };
}

function versionOf(json: unknown, name: string): number | undefined {
  if (typeof json !== 'object' || json === null || Array.isArray(json) || !('schema' in json)) return undefined;
  const [kind, version, ...rest] = String(json.schema).split('/');
  return kind === name && rest.length === 0 && /^[1-9]\d{0,5}$/.test(version ?? '') ? Number(version) : undefined;
}
