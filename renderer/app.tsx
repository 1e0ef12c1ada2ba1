import '@fontsource-variable/figtree/wght.css'
import './figures/tokens.css'
import './figures/figures.css'
import './look/base.css'
import './look/controls.css'
import './app/app.css'
import { useEffect, useRef, useState } from 'react'
import { HashRouter, Route, Routes, useLocation, useParams } from 'react-router'
import { BoardScreen } from './boards/board-screen.tsx'
import { DefinitionsScreen } from './definitions/definitions-screen.tsx'
import { Boards } from './lists/boards.tsx'
import { Dogs } from './lists/dogs.tsx'
import { Rides } from './lists/rides.tsx'
import { Button } from './look/button.tsx'
import { Dialog } from './look/dialog.tsx'
import { MarkingScreen } from './marking/marking-screen.tsx'
import { PackScreen } from './packs/pack-screen.tsx'
import { Packs } from './packs/packs.tsx'
import { RideScreen } from './ride/ride-screen.tsx'
import { AttentionScreen } from './season/attention-screen.tsx'
import { CompareScreen } from './season/compare-screen.tsx'
import { NotedScreen } from './season/noted-screen.tsx'
import { SeasonScreen } from './season/season-screen.tsx'
import { ShowScreen } from './season/show-screen.tsx'
import { SettingsScreen } from './settings/settings-screen.tsx'
import { SideBySideScreen } from './side-by-side/side-by-side-screen.tsx'
import { SetupScreen } from './setup/setup-screen.tsx'
import { TogetherScreen } from './setup/together-screen.tsx'
import { ImportsProvider } from './start/imports.tsx'
import { StartScreen } from './start/start-screen.tsx'
import { Appearance } from './app/appearance.tsx'
import { ClosingGuard } from './app/closing-guard.tsx'
import { ErrorBoundary } from './app/error-boundary.tsx'
import { FocusKeeper } from './app/focus-keeper.tsx'
import { HistoriesProvider } from './app/histories.tsx'
import { KEY_GROUPS } from './app/key-groups.ts'
import { KeyboardList } from './app/keyboard-list.tsx'
import { NoSuchPlace } from './app/no-such-place.tsx'
import { RemovalsProvider } from './app/removals.tsx'
import { SaversProvider } from './app/savers.tsx'
import { ShellBar } from './app/shell-bar.tsx'

/** The whole window. Addresses stand behind the `#`, so that they work from a folder, a protocol of our own and a port. */
export function App() {
  return (
    <HashRouter>
      {/* The pressing of react-aria puts a style element here unless it finds this id; ours is in controls.css. */}
      <meta id="react-aria-pressable-style" name="pressable" content="styled" />
      <ClosingGuard />
      <FocusKeeper />
      <SaversProvider>
        <Appearance />
        <HistoriesProvider>
          <ImportsProvider>
            <RemovalsProvider>
              <Window />
            </RemovalsProvider>
          </ImportsProvider>
        </HistoriesProvider>
      </SaversProvider>
    </HashRouter>
  )
}

function Window() {
  const { pathname } = useLocation()
  const content = useRef<HTMLElement>(null)
  const shown = useRef(pathname)
  useEffect(() => {
    // A new screen is read from its beginning; the first one keeps the focus where the browser puts it.
    if (shown.current !== pathname) content.current?.focus()
    shown.current = pathname
  }, [pathname])
  return (
    <div className="window">
      <ShellBar />
      <main ref={content} tabIndex={-1}>
        <ErrorBoundary key={pathname}>
          <Routes>
            <Route path="/" element={<StartScreen />} />
            <Route path="/rides" element={<Rides />} />
            <Route path="/rides/:rideId" element={<RideRoute />} />
            <Route path="/clips/:clipId/set-up" element={<ClipRoute show={SetupScreen} />} />
            <Route path="/clips/:clipId/marking" element={<ClipRoute show={MarkingScreen} />} />
            <Route path="/together" element={<TogetherScreen />} />
            <Route path="/dogs" element={<Dogs />} />
            <Route path="/dogs/:dogId" element={<DogRoute show={SeasonScreen} />} />
            <Route path="/dogs/:dogId/show" element={<DogRoute show={ShowScreen} />} />
            <Route path="/noted/:id" element={<NotedRoute />} />
            <Route path="/attention" element={<AttentionScreen />} />
            <Route path="/compare" element={<CompareScreen />} />
            <Route path="/boards" element={<Boards />} />
            <Route path="/packs" element={<Packs />} />
            <Route path="/packs/:packId" element={<PackRoute />} />
            <Route path="/boards/:boardId" element={<BoardRoute />} />
            <Route path="/side-by-side" element={<SideBySideScreen />} />
            <Route path="/definitions" element={<DefinitionsScreen />} />
            <Route path="/settings" element={<SettingsScreen />} />
            <Route path="*" element={<NoSuchPlace />} />
          </Routes>
        </ErrorBoundary>
      </main>
      <KeyboardHelp />
    </div>
  )
}

function RideRoute() {
  const { rideId = '' } = useParams()
  return <RideScreen key={rideId} rideId={rideId} />
}

function PackRoute() {
  const { packId = '' } = useParams()
  return <PackScreen key={packId} packId={packId} />
}

function BoardRoute() {
  const { boardId = '' } = useParams()
  return <BoardScreen key={boardId} boardId={boardId} />
}

function ClipRoute({ show: Screen }: { readonly show: (props: { readonly clipId: string }) => React.ReactNode }) {
  const { clipId = '' } = useParams()
  return <Screen key={clipId} clipId={clipId} />
}

function DogRoute({ show: Screen }: { readonly show: (props: { readonly dogId: string }) => React.ReactNode }) {
  const { dogId = '' } = useParams()
  return <Screen key={dogId} dogId={dogId} />
}

function NotedRoute() {
  const { id = '' } = useParams()
  return <NotedScreen key={id} id={id} />
}

function KeyboardHelp() {
  const [isOpen, setIsOpen] = useState(false)
  useEffect(() => {
    const open = (event: KeyboardEvent): void => {
      if (event.key !== 'F1') return
      event.preventDefault()
      setIsOpen(true)
    }
    window.addEventListener('keydown', open)
    return () => window.removeEventListener('keydown', open)
  }, [])
  if (!isOpen) return null
  return (
    <Dialog title="Keyboard shortcuts" onClose={() => setIsOpen(false)}>
      <KeyboardList groups={KEY_GROUPS} />
      <div className="dialog-foot">
        <Button onPress={() => setIsOpen(false)}>Close</Button>
      </div>
    </Dialog>
  )
}
