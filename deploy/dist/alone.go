package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"time"
)

// patience is how long the program may take to start and to stop; far more than it needs.
const patience = time.Minute

// isAt finds the address in what the server says at its start.
var isAt = regexp.MustCompile(`is at (http://\S+)`)

// runsAlone copies the program into an empty folder and starts it there with an empty environment. The pages and the app must come, and
// it must end when asked.
func runsAlone(file string) error {
	dir, err := os.MkdirTemp("", "alone")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	body, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	name := filepath.Join(dir, filepath.Base(file))
	if err := os.WriteFile(name, body, 0o755); err != nil {
		return err
	}
	cmd := exec.Command(name, "serve", "--addr", "localhost:0", "--data", filepath.Join(dir, "data"))
	cmd.Dir, cmd.Env = dir, []string{}
	out, err := cmd.StdoutPipe()
	if err != nil {
		return err
	}
	var said bytes.Buffer
	cmd.Stderr = &said
	if err := cmd.Start(); err != nil {
		return err
	}
	late := time.AfterFunc(patience, func() { _ = cmd.Process.Kill() }) // then reading ends
	defer late.Stop()
	err = looksRight(out)
	if stop := end(cmd); err == nil {
		err = stop
	}
	if err != nil {
		return fmt.Errorf("%w\n%s", err, said.Bytes())
	}
	return nil
}

// end asks the program to end and waits for it. Windows cannot ask.
func end(cmd *exec.Cmd) error {
	if err := cmd.Process.Signal(os.Interrupt); err != nil {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
		return nil
	}
	return cmd.Wait()
}

// looksRight reads the address and asks for the page, the app and the vault's health.
func looksRight(out io.Reader) error {
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		at := isAt.FindStringSubmatch(lines.Text())
		if at == nil {
			continue
		}
		go func() { _, _ = io.Copy(io.Discard, out) }() // whatever it says further
		for address, start := range map[string]string{"/": "<!doctype html>", "/bench/tables": "<!doctype html>", "/web/app.wasm": "\x00asm", "/healthz": "ok"} {
			if err := begins(at[1]+address, start); err != nil {
				return err
			}
		}
		return nil
	}
	return errors.Join(errors.New("it did not say where it is"), lines.Err())
}

func begins(address, start string) error {
	answer, err := http.Get(address)
	if err != nil {
		return err
	}
	defer answer.Body.Close()
	head := make([]byte, len(start))
	if _, err := io.ReadFull(answer.Body, head); err != nil || string(head) != start {
		return fmt.Errorf("%s: status %d, and it begins with %q, not %q", address, answer.StatusCode, head, start)
	}
	return nil
}
