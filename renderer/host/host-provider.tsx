import { QueryClient, QueryClientProvider } from '@tanstack/react-query'
import { createContext, type ReactNode, useContext, useEffect, useState } from 'react'
import type { Client, Happening } from '../../main/contract/calls.ts'
import type { Job } from '../../main/contract/jobs.ts'
import { affectedCalls } from './affected-calls.ts'
import { withJob } from './jobs-in-order.ts'

const ClientContext = createContext<Client | null>(null)

/** Gives everything below it the host: the hooks of `use-call.ts` work, and answers are asked for anew when they change. */
export function HostProvider({ client, children }: { readonly client: Client; readonly children: ReactNode }) {
  const [answers] = useState(openAnswers)
  useEffect(() => client.listen((happening) => takeIn(answers, happening)), [answers, client])
  return (
    <ClientContext value={client}>
      <QueryClientProvider client={answers}>{children}</QueryClientProvider>
    </ClientContext>
  )
}

export function useClient(): Client {
  const client = useContext(ClientContext)
  if (client === null) throw new Error('useClient is used outside of a HostProvider')
  return client
}

/** The host tells what changes and is on this machine: no polling, no trying again, no waiting for a network. */
function openAnswers(): QueryClient {
  return new QueryClient({
    defaultOptions: {
      queries: { retry: false, staleTime: 5000, refetchOnWindowFocus: false, networkMode: 'always' },
      mutations: { networkMode: 'always' },
    },
  })
}

function takeIn(answers: QueryClient, happening: Happening): void {
  switch (happening.kind) {
    case 'changed': {
      const affected = affectedCalls(happening.what)
      void answers.invalidateQueries({ predicate: ({ queryKey }) => affected.has(String(queryKey[0])) })
      return
    }
    case 'job':
      takeInJob(answers, happening.job)
      return
    case 'export':
      answers.setQueryData(['exports.get', { exportId: happening.export.id }], happening.export)
      return
    case 'pictures':
      return
  }
}

/** The list is only added to once it has been asked for, so that it is never a part passed off as the whole. */
function takeInJob(answers: QueryClient, job: Job): void {
  const key = ['measuring.jobs', {}]
  const jobs = answers.getQueryData<readonly Job[]>(key)
  if (jobs === undefined) void answers.invalidateQueries({ queryKey: key })
  else answers.setQueryData(key, withJob(jobs, job))
}
