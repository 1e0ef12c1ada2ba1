/** The first screen stands here until the screens are there. */
export function App() {
  return <main>Tiphold</main>
}
