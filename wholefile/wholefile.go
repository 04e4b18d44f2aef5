// Package wholefile writes files of which nobody ever sees a part: the old one, or the new one, whatever comes between: a full disk, a power
// failure, the end of the program.
package wholefile

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
)

// Write writes the file of a plain name in a folder: a hidden file beside it is written, brought to the disk and takes the name when it is
// complete. Unless replace is set, a file that is there already is left alone and the error is fs.ErrExist; if it is set, the new file may be read
// and written by whoever might the old one. A program that is killed meanwhile leaves at most the hidden file behind, whose name ends in ".part".
func Write(folder *os.Root, name string, replace bool, write func(io.Writer) error) error {
	temp := fmt.Sprintf(".%s.%08x.part", name, rand.Uint32())
	file, err := folder.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	defer folder.Remove(temp)
	if old, err := folder.Stat(name); err == nil && replace {
		file.Chmod(old.Mode().Perm()) // a file system without permissions has nothing to keep
	}
	if err := errors.Join(write(file), file.Sync(), file.Close()); err != nil {
		return err
	}
	if !replace {
		// A link never replaces a file that came up meanwhile, as renaming would.
		if err := folder.Link(temp, name); err == nil || errors.Is(err, fs.ErrExist) {
			return err
		} // else a file system without links
	}
	return folder.Rename(temp, name)
}
