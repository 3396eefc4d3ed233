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

/**
 * What components need: our own rules, and what sees their markup. oxlint, ten times as fast, asks the same rules of all
 * other files (oxlint.json), and what rests on types of what svelte-check makes of components (oxlint.components.json). What
 * a component names and doesn't use svelte-check refuses. Files of TypeScript are named for editors, and for what tests plant.
 */
export default defineConfig(
  { linterOptions: { reportUnusedDisableDirectives: 'error' } },
  {
    files: ['src/**/*.ts', 'src/**/*.svelte'],
    languageOptions: {
      parser: ts.parser,
      globals: globals.browser,
      parserOptions: { extraFileExtensions: ['.svelte'] },
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
    files: ['**/*.svelte'],
    extends: [js.configs.recommended, ts.configs.strict, svelte.configs.recommended],
  },
  {
    files: ['**/*.svelte'],
    rules: {
      eqeqeq: 'error',
      '@typescript-eslint/no-non-null-assertion': 'off',
      // svelte-check refuses it.
      '@typescript-eslint/no-unused-vars': 'off',
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
