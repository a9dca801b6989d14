// Package simtest puts phones, a vault and a bad network through everything
// that can go wrong, in one goroutine and from one seed, and checks after each
// step that nothing is lost. It is test code: a schedule that fails can be
// repeated, made shorter with [Shrink], and kept as a file.
//
// [Random] makes a schedule; [Run] plays it: phones edit, are cut off, crash
// between any two steps, fill up, are wiped, copied and put back; the vault
// crashes before or after any commit, fills up, is put back to an older state or
// replaced; the network drops, doubles, delays, reorders and damages what it
// carries. Then everything is healed, and all must hold the same. [RunSmall]
// plays one of all the small worlds there are. [RandomTrim] is Random where the
// vault also drops old versions: then all that is kept must be everywhere,
// devices show no other newest versions than the vault, no photo that a kept
// change names is let go of, and nobody asks for ever for one that is gone.
//
// # What must hold, and where it is looked at
//
//  1. What was reported as saved survives a crash: check.
//  2. What the vault confirmed is committed: check, after each step.
//  3. What was saved is on a phone or in the vault at all times, unless all
//     that held it was destroyed; at the end it is everywhere: check, converged.
//  4. Any order, any repetition: late and doubled messages, converged; the laws
//     of package merge.
//  5. The same ops make the same records: converged.
//  6. Heads are the ops nobody replaced: converged, headsOrAncestors.
//  7. The vault's log only grows behind its end: check.
//  8. A checkpoint covers only what the phone holds: checkPlace, after each step.
//  9. A photo has the content its name says: photosEverywhere.
//  10. Deletions stay, and edits they did not see stay too: converged, which
//     compares with the definition in package merge.
//  11. All this after the vault was put back, replaced or lost: Restore, Replace.
//  12. One bad op holds up nothing: the vault refuses some; outbox.
//  13. Clocks decide ties only: Clock, up to ten years; converged.
package simtest
