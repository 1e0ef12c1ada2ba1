import { join } from 'node:path'
import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'

/** Builds the window into out/window/. Nothing is inlined: the hosts allow no inline scripts. */
export default defineConfig({
  root: join(import.meta.dirname, 'renderer'),
  plugins: [react()],
  build: {
    outDir: join(import.meta.dirname, 'out/window'),
    emptyOutDir: true,
    assetsInlineLimit: 0,
    target: 'es2023',
    modulePreload: { polyfill: false },
  },
})
