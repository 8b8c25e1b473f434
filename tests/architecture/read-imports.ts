/** What a source file imports, from its syntax tree: types count like values, and so does whatever loads at run time. */
import { parseSync } from 'oxc-parser';

export interface Import {
  /** As it is written; `undefined` where it is put together at run time, so that nobody can check it. */
  readonly specifier: string | undefined;
  readonly line: number;
}

type Node = { readonly type: string; readonly start: number } & Readonly<Record<string, unknown>>;

/** Throws for a file that cannot be parsed: a guard that cannot read must not stay green. */
export function readImports(path: string, source: string): Import[] {
  const { program, comments, errors } = parseSync(path, source);
  if (errors.length > 0) throw new Error(`${path} cannot be parsed: ${errors[0]!.message}`);
  const imports: Import[] = [];
  const add = (specifier: unknown, start: number) =>
    imports.push({
      specifier: typeof specifier === 'string' ? specifier : undefined,
      line: source.slice(0, start).split('\n').length,
    });
  visit(program, (node) => {
    const specifier = specifierNode(node);
    if (specifier) add(specifier.value, node.start);
  });
  for (const { value, start } of comments) {
    const reference = /^\/\s*<reference\s+(?:path|types|lib)\s*=\s*["']([^"']*)["']/.exec(value);
    if (reference) add(reference[1], start);
  }
  return imports;
}

/** Names that a file exports and that exist at run time; what it only passes on is left out. */
export function runtimeExports(path: string, source: string): string[] {
  const { module, program } = parseSync(path, source);
  const typeNames = new Set(
    (program.body as unknown as Node[]).flatMap((node) => {
      const declared = (node.type === 'ExportNamedDeclaration' ? node.declaration : node) as Node | undefined;
      const isType = declared?.type === 'TSInterfaceDeclaration' || declared?.type === 'TSTypeAliasDeclaration';
      return isType ? [(declared.id as { name: string }).name] : [];
    }),
  );
  return module.staticExports
    .flatMap(({ entries }) => entries)
    .filter(({ isType, moduleRequest, localName }) => !isType && !moduleRequest && !typeNames.has(localName.name ?? ''))
    .map(({ exportName }) => exportName.name ?? 'default');
}

function specifierNode(node: Node): Node | undefined {
  switch (node.type) {
    case 'ImportDeclaration':
    case 'ExportAllDeclaration':
    case 'ExportNamedDeclaration':
    case 'ImportExpression':
    case 'TSImportType':
      return (node.source as Node | null) ?? undefined;
    case 'TSExternalModuleReference':
      return node.expression as Node;
    case 'CallExpression':
      return callsRequire(node.callee as Node) ? ((node.arguments as Node[])[0] ?? node) : undefined;
    default:
      return undefined;
  }
}

function callsRequire(callee: Node): boolean {
  if (callee.type === 'MemberExpression') return callsRequire(callee.object as Node);
  return callee.type === 'Identifier' && (callee.name === 'require' || callee.name === 'createRequire');
}

function visit(value: unknown, see: (node: Node) => void): void {
  if (Array.isArray(value)) {
    for (const item of value) visit(item, see);
  } else if (typeof value === 'object' && value !== null) {
    if (typeof (value as Node).type === 'string') see(value as Node);
    for (const part of Object.values(value)) visit(part, see);
  }
}
