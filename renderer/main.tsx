import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { App } from './app.tsx'
import { openClient } from './host/client.ts'
import { HostProvider } from './host/host-provider.tsx'

const place = document.getElementById('tiphold')
if (place === null) throw new Error('index.html has no element with the id "tiphold"')
createRoot(place).render(
  <StrictMode>
    <HostProvider client={openClient()}>
      <App />
    </HostProvider>
  </StrictMode>,
)
