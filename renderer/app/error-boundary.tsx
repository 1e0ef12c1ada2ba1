import { Component, type ReactNode } from 'react'
import { Button } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'

interface Props {
  readonly children: ReactNode
}

/** A bug in one screen leaves the rest of the window standing: shows what broke and a way on. */
export class ErrorBoundary extends Component<Props, { readonly broken: Error | null }> {
  override state = { broken: null }

  static getDerivedStateFromError(broken: Error): { broken: Error } {
    return { broken }
  }

  override render(): ReactNode {
    const broken: Error | null = this.state.broken
    if (broken === null) return this.props.children
    return (
      <div className="screen">
        <Notice tone="bad" actions={<Button onPress={() => this.setState({ broken: null })}>Try again</Button>}>
          <p>Something went wrong on this screen. Everything you saved is safe.</p>
          <p className="soft small">{(broken as Error).message}</p>
        </Notice>
      </div>
    )
  }
}
