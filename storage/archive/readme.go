package archive

// readme is the text in every file for the person who opens it without the app.
const readme = `Torchside: everything one device held when this file was saved.

The app reads this file in again (Bench, "Read such a file in"), on any device
and any number of times: what is there stays, what is new is added. Keep the
file as it is; a file that was changed or cut short is refused as a whole.

Without the app everything in it can be read too:

  manifest.json   what is in here: format and version, the app's version, when
                  it was saved, how many changes, records and attachments.
  ops.jsonl       every change ever made, one JSON object a line (UTF-8), by
                  ascending "op". Its SHA-256 is in manifest.json.
  blobs/          attachments (photos and other files) as they were stored.
                  The name of each is the SHA-256 of its content, without an
                  ending: photos are JPEG and open once ".jpg" is added.

A line of ops.jsonl:

  op       number of this change      rec      number of the record changed
  kind     what the record is: "sheet" of the journal, "torch", "tip", ...
  schema   form of the body           body     the content, mostly JSON text
  body64   the content in base64, where it is no text
  parents  changes this one replaces; none for a new record
  dev, n   device that made it, and its count there
  hlc      clock reading that settles which of two versions is shown
  at       local time with offset     del      true: the record was deleted
  blobs    names of its attachments in blobs/

The present state of a record is its change that no other change of the same
"rec" names among its "parents". Where there are several, it was changed in two
places and both versions were kept.
`
