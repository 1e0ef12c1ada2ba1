import ts from 'typescript'
import type { SourceFile } from './source-files.ts'

/**
 * What the docblocks of a file's exported functions lack, as sentences. A docblock must name every parameter and say
 * what comes back: with `@returns`, the word "returns", or a first sentence that is a noun phrase ("The angle of ...").
 */
export function docblockOffences({ path, text }: SourceFile): string[] {
  const source = ts.createSourceFile(path, text, ts.ScriptTarget.ES2023, true)
  return exportedFunctions(source).flatMap(({ name, fn, owner }) => {
    const docblock = docblockOf(owner)
    if (docblock === null) return [`${path}: ${name} has no docblock`]
    const unnamed = fn.parameters
      .map((parameter) => parameter.name)
      .filter(ts.isIdentifier)
      .filter((parameter) => !namesWord(docblock, parameter.text))
      .map((parameter) => `${path}: the docblock of ${name} does not name the parameter ${parameter.text}`)
    const silent = returnsSomething(fn) && !saysWhatReturns(docblock)
    return silent ? [...unnamed, `${path}: the docblock of ${name} does not say what it returns`] : unnamed
  })
}

interface ExportedFunction {
  readonly name: string
  readonly fn: ts.FunctionLikeDeclaration
  /** The statement that carries the docblock. */
  readonly owner: ts.Node
}

function exportedFunctions(source: ts.SourceFile): ExportedFunction[] {
  return source.statements.flatMap((statement): ExportedFunction[] => {
    if (!isExported(statement)) return []
    if (ts.isFunctionDeclaration(statement)) {
      return [{ name: statement.name?.text ?? 'default', fn: statement, owner: statement }]
    }
    if (!ts.isVariableStatement(statement)) return []
    return statement.declarationList.declarations.flatMap(({ name, initializer }) =>
      initializer !== undefined && (ts.isArrowFunction(initializer) || ts.isFunctionExpression(initializer))
        ? [{ name: name.getText(source), fn: initializer, owner: statement }]
        : [],
    )
  })
}

function isExported(statement: ts.Statement): boolean {
  const modifiers = ts.canHaveModifiers(statement) ? ts.getModifiers(statement) : undefined
  return modifiers?.some((modifier) => modifier.kind === ts.SyntaxKind.ExportKeyword) ?? false
}

function docblockOf(owner: ts.Node): string | null {
  const block = ts.getJSDocCommentsAndTags(owner).find(ts.isJSDoc)
  return block?.getText().replace(/^[\s/*]+|[\s/*]+$/gm, '') ?? null
}

function namesWord(docblock: string, word: string): boolean {
  return new RegExp(`(?<![\\w$])${word.replace('$', '\\$')}(?![\\w$])`).test(docblock)
}

function returnsSomething(fn: ts.FunctionLikeDeclaration): boolean {
  return fn.type?.kind !== ts.SyntaxKind.VoidKeyword
}

/** A first word such as "Fits" or "Solves" tells what the function does and leaves open what it gives back. */
function saysWhatReturns(docblock: string): boolean {
  const opensWithVerb = /^(?!This\b|Its\b)[A-Z][a-z]+s\b/.test(docblock)
  return !opensWithVerb || /@returns\s+\S|\breturn(s|ed)?\b/.test(docblock)
}
