import { fileURLToPath } from 'node:url';
import js from '@eslint/js';
import { defineConfig } from 'eslint/config';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import ts from 'typescript-eslint';
import svelteConfig from '../svelte.config.js';
import lists from './lists.js';
import props from './props.js';
import units from './units.js';
import walls from './walls.js';

const root = fileURLToPath(new URL('..', import.meta.url));
const WORKLET = 'src/audio/**/*.worklet.ts';

/**
 * Our own rules, for src/, and what components and the worklet need beyond them. Everything else is asked by oxlint, ten
 * times as fast: of all other files (oxlint.json), and what rests on types of what svelte-check makes of components
 * (oxlint.components.json).
 */
export default defineConfig(
  { linterOptions: { reportUnusedDisableDirectives: 'error' } },
  {
    files: ['src/**/*.ts', 'src/**/*.svelte'],
    languageOptions: {
      parser: ts.parser,
      globals: globals.browser,
      parserOptions: { tsconfigRootDir: root, extraFileExtensions: ['.svelte'] },
    },
    plugins: { walls, units },
    rules: {
      'walls/imports': 'error',
      'walls/circles': 'error',
      'units/doc': 'error',
      'max-lines': ['error', 400],
    },
  },
  {
    // It has a program of its own: its globals are not the page's.
    files: [WORKLET],
    extends: [js.configs.recommended, ts.configs.strictTypeChecked],
    languageOptions: { parserOptions: { project: '.ci/tsconfig.worklet.json' } },
  },
  {
    files: ['**/*.svelte'],
    extends: [js.configs.recommended, ts.configs.strict, svelte.configs.recommended],
  },
  {
    files: [WORKLET, '**/*.svelte'],
    rules: {
      eqeqeq: 'error',
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      '@typescript-eslint/consistent-type-imports': ['error', { disallowTypeAnnotations: false }],
    },
  },
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: { parserOptions: { parser: ts.parser, svelteConfig } },
    plugins: { lists, props },
    rules: {
      'lists/keys': 'error',
      'props/used': 'error',
      'no-restricted-syntax': [
        'error',
        {
          // svelte/no-inline-styles would forbid style: too, which sets properties by script and is allowed.
          selector:
            "SvelteAttribute[key.name='style']:not(:has(> SvelteMustacheTag)), SvelteAttribute[key.name='style'] > SvelteMustacheTag[expression.type='Literal']",
          message:
            'A fixed style attribute breaks the Content-Security-Policy; use a class or a style: directive.',
        },
      ],
    },
  },
);
