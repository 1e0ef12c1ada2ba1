import { useQuery, type UseQueryResult } from '@tanstack/react-query'
import type { ClipSetup, MarksSearch } from '../../main/contract/clips.ts'
import { useClient } from '../host/host-provider.tsx'
import { valueOrThrow } from '../host/problem-error.ts'

/**
 * Marks that the program offers for a clip. What was found with one board, stretch or direction is not passed off as found with another:
 * it is looked for anew.
 *
 * @param setup as the host has it
 */
export function useProposals(
  clipId: string,
  { boardId, travel, stretch, slowMotion }: ClipSetup,
  isEnabled: boolean,
): UseQueryResult<MarksSearch> {
  const client = useClient()
  return useQuery({
    queryKey: ['clips.proposeMarks', { clipId }, { boardId, travel, stretch, slowMotion }],
    queryFn: async () => valueOrThrow(await client.call('clips.proposeMarks', { clipId })),
    enabled: isEnabled,
    staleTime: Infinity,
    // On the next visit other clips may have been marked.
    gcTime: 0,
  })
}
