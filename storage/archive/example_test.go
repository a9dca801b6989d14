package archive_test

import (
	"bytes"
	"context"
	"fmt"
	"time"

	"torchside/storage"
	"torchside/storage/archive"
	"torchside/storage/memory"
	"torchside/storage/storagetest"
)

// Moving everything to another device, twice by mistake.
func Example() {
	ctx := context.Background()
	phone, tablet := memory.New(), memory.New()
	author := storage.NewAuthor(phone, time.Now, storagetest.NewSource(1))
	if _, err := author.Save(ctx, "torch", 1, []byte("a torch")); err != nil {
		fmt.Println(err)
	}
	var file bytes.Buffer
	if _, err := archive.Export(ctx, phone, &file, "1.0", time.Now()); err != nil {
		fmt.Println(err)
	}
	a, err := archive.Read(bytes.NewReader(file.Bytes()), int64(file.Len()), nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for range 2 {
		report, err := archive.Import(ctx, tablet, a, nil)
		fmt.Println(report.Added, "added,", report.Held, "held,", len(report.Split), "to choose,", err)
	}
	// Output:
	// 1 added, 0 held, 0 to choose, <nil>
	// 0 added, 1 held, 0 to choose, <nil>
}
