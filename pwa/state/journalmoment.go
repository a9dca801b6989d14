package state

import "time"

// localForm is how the browser's own field for date and time of day writes them.
const localForm = "2006-01-02T15:04"

// localMoment is the date and time of a sheet as its field shows them: by the clock of the place where it was noted. What is no time
// is shown as it is.
func localMoment(at string) string {
	if _, err := time.Parse(time.RFC3339, at); err != nil {
		return at
	}
	return at[:len(localForm)]
}

// momentOf is the time a sheet notes for what its field holds. The offset of the time before is kept: a corrected minute does not
// move the place. Without one it is the offset here.
func momentOf(local, before string) string {
	if local == localMoment(before) {
		return before
	}
	zone := time.Local
	if t, err := time.Parse(time.RFC3339, before); err == nil {
		zone = t.Location()
	}
	t, err := time.ParseInLocation(localForm, local, zone)
	if err != nil {
		return local
	}
	return t.Format(time.RFC3339)
}
