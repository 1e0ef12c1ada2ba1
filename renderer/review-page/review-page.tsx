import { useCallback, useEffect, useMemo, useState } from 'react'
import { FileTrigger } from 'react-aria-components'
import { mergedReviews } from '../../analysis/review/merge-reviews.ts'
import type { ReviewItem } from '../../analysis/review/review-item.ts'
import { REPLY_FORMAT } from '../../main/contract/review.ts'
import { Button } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'
import { TextField } from '../look/fields.tsx'
import { packName } from '../../analysis/review/pack-name.ts'
import { ReviewDesk } from '../review/review-desk.tsx'
import { keepComments, keptComments } from './kept-comments.ts'
import { decoded, type PageData } from './page-data.ts'
import { itemsOfReply, replyFileName } from './reply-file.ts'

/** The page that lies in a pack: the same desk as in the program, in any browser, without a network. */
export function ReviewPage({ data: { detail, pictures, step } }: { readonly data: PageData }) {
  const { packId, rideId, card } = detail
  const [kept, setKept] = useState(() => keptComments(packId))
  const [unsaved, setUnsaved] = useState(0)
  const [problem, setProblem] = useState<string | null>(null)
  const [isFull, setIsFull] = useState(false)
  const { author } = kept
  const items = useMemo(() => mergedReviews(detail.items, kept.items), [detail.items, kept.items])
  const loadFrame = useCallback((element: number) => decoded(pictures[element]!), [pictures])
  const keep = (next: typeof kept): void => {
    setKept(next)
    setIsFull(!keepComments(packId, next))
  }
  const put = (item: ReviewItem): void => {
    keep({ ...kept, items: mergedReviews(kept.items, [item]) })
    setUnsaved((count) => count + 1)
  }
  const rename = (name: string): void => {
    const own = { ...author, name }
    // Who had no name yet when she wrote has it now.
    const named = kept.items.map((item) =>
      item.author.id === author.id && item.author.name !== name
        ? { ...item, author: own, version: item.version + 1 }
        : item,
    )
    keep({ author: own, items: named })
  }
  const save = (): void => {
    const said = items.filter((item) => item.author.id !== detail.handlerId)
    const text = JSON.stringify({ format: REPLY_FORMAT, packId, rideId, items: said })
    const link = document.createElement('a')
    link.href = URL.createObjectURL(new Blob([text], { type: 'application/json' }))
    link.download = replyFileName(card)
    link.click()
    URL.revokeObjectURL(link.href)
    setUnsaved(0)
  }
  const goOn = async (file: File): Promise<void> => {
    const found = itemsOfReply(await file.text(), packId)
    setProblem(found === null ? 'This is no reply to this ride: choose another file.' : null)
    if (found !== null) keep({ ...kept, items: mergedReviews(kept.items, found) })
  }
  useEffect(() => {
    if (unsaved === 0) return
    const ask = (event: BeforeUnloadEvent): void => event.preventDefault()
    window.addEventListener('beforeunload', ask)
    return () => window.removeEventListener('beforeunload', ask)
  }, [unsaved])
  return (
    <>
      <meta id="react-aria-pressable-style" name="pressable" content="styled" />
      <ReviewDesk
        detail={{ ...detail, items }}
        author={author}
        units="metric"
        loadFrame={loadFrame}
        isReady
        onItem={put}
        head={
          <>
            <h1>
              <bdi>{packName(card)}</bdi>
            </h1>
            <span className="soft">
              from <bdi>{card.handlerName}</bdi>
              {step > 1 ? `, one frame in ${step} is shown here` : ''}
            </span>
          </>
        }
        doing={
          <>
            <TextField label="Your name" value={author.name} onChange={rename} maxLength={80} />
            <FileTrigger
              acceptedFileTypes={['.json']}
              onSelect={(files) => {
                const file = files?.[0]
                if (file !== undefined) void goOn(file)
              }}
            >
              <Button>Go on with a saved reply</Button>
            </FileTrigger>
            <Button look="primary" isDisabled={author.name.trim() === '' || items.length === 0} onPress={save}>
              Save the reply
            </Button>
            {problem === null ? null : <Notice tone="bad">{problem}</Notice>}
            {isFull ? (
              <Notice tone="unsure">
                This browser has no room to keep your comments: save the reply before you close this page.
              </Notice>
            ) : null}
            {author.name.trim() === '' ? (
              <p className="soft small review-hint">
                Write your name, comment, save the reply, and send that file back.
              </p>
            ) : null}
          </>
        }
      />
    </>
  )
}
