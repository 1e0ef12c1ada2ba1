import '../figures/tokens.css'
import '../figures/figures.css'
import '../look/base.css'
import '../look/controls.css'
import './review-page.css'
import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { ReviewPage } from './review-page.tsx'
import { pageData } from './page-data.ts'

const place = document.getElementById('tiphold')
const data = document.getElementById('review-data')
if (place === null || data === null) throw new Error('The page has no place to show a ride in.')
createRoot(place).render(
  <StrictMode>
    <ReviewPage data={pageData(data.textContent)} />
  </StrictMode>,
)
