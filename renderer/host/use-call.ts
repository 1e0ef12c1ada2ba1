import {
  useMutation,
  type UseMutationResult,
  useQuery,
  type UseQueryOptions,
  type UseQueryResult,
} from '@tanstack/react-query'
import { useEffect, useEffectEvent } from 'react'
import type { CallName, Happening, InputOf, ValueOf } from '../../main/contract/calls.ts'
import type { Job } from '../../main/contract/jobs.ts'
import { askForJobs } from './ask-for-jobs.ts'
import { askUntilCurrent } from './ask-until-current.ts'
import { useClient } from './host-provider.tsx'
import { type ProblemError, valueOrThrow } from './problem-error.ts'

type CallOptions<Name extends CallName> = Omit<
  UseQueryOptions<ValueOf<Name>, ProblemError, ValueOf<Name>, readonly unknown[]>,
  'queryKey' | 'queryFn'
>

/**
 * What a call answers, kept up to date: it is asked again when something that it shows was changed.
 * `useCall('rides.get', { rideId })`. The key is the name and the input.
 */
export function useCall<Name extends CallName>(
  name: Name,
  input: InputOf<Name>,
  options: CallOptions<Name> = {},
): UseQueryResult<ValueOf<Name>, ProblemError> {
  const client = useClient()
  return useQuery({
    ...options,
    queryKey: [name, input],
    queryFn: () => askUntilCurrent(client, name, input),
  })
}

/** A call that changes something: `const keep = useChange('dogs.keep')`, then `keep.mutate({ id: null, dog })`. */
export function useChange<Name extends CallName>(
  name: Name,
): UseMutationResult<ValueOf<Name>, ProblemError, InputOf<Name>> {
  const client = useClient()
  return useMutation({
    mutationKey: [name],
    mutationFn: async (input: InputOf<Name>) => valueOrThrow(await client.call(name, input)),
  })
}

/** Every job that is known, each in its newest state; empty until the host has answered. */
export function useJobs(): readonly Job[] {
  const client = useClient()
  const jobs = useQuery({
    queryKey: ['measuring.jobs', {}],
    queryFn: () => askForJobs(client),
    staleTime: Infinity,
  })
  return jobs.data ?? []
}

/** Calls back for everything that the host tells while the component is shown. */
export function useHappenings(onHappening: (happening: Happening) => void): void {
  const client = useClient()
  const tell = useEffectEvent(onHappening)
  useEffect(() => client.listen((happening) => tell(happening)), [client])
}
