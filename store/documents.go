package store

import (
	"bytes"
	"context"
	"crypto/sha256"
	"fmt"
	"image"
	_ "image/jpeg" // registers the decoder
	_ "image/png"  // registers the decoder
	"path/filepath"
	"strings"
	"time"
	"unicode"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
)

// Document is a scanned answer of a doctor.
type Document struct {
	ID          uuid.UUID
	ClearanceID uuid.UUID
	Name        string // as the file was called
	ContentType string // application/pdf, image/png or image/jpeg, by its content
	Size        int    // bytes
	SHA256      []byte `db:"sha256"`
	At          time.Time
	By          string // name of the account
}

// DocumentBytes is how large a scanned answer may be, in bytes.
func (s *Store) DocumentBytes(ctx context.Context, actor Actor) (int64, error) {
	var most int64
	err := s.look(ctx, actor, func(t *tx) error {
		most = int64(clearance.PolicyFrom(t.settings).DocumentMB) << 20
		return nil
	})
	if err != nil {
		return 0, fmt.Errorf("size of documents: %w", err)
	}
	return most, nil
}

// contentType tells what a file is by what is in it, whatever it is called; "" if
// it is none of the three kinds that are kept. Source: PDF, ISO 32000-1, 7.5.2,
// begins with %PDF-; the pictures are read as far as their size.
func contentType(body []byte) string {
	if bytes.HasPrefix(body, []byte("%PDF-")) && bytes.Contains(body[max(0, len(body)-2048):], []byte("%%EOF")) {
		return "application/pdf"
	}
	switch _, format, err := image.DecodeConfig(bytes.NewReader(body)); {
	case err != nil:
		return ""
	case format == "png" || format == "jpeg":
		return "image/" + format
	}
	return ""
}

// fileName is a file's name without folders and without what does not print.
func fileName(name string) string {
	name = filepath.Base(strings.ReplaceAll(name, `\`, "/"))
	name = strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) || strings.ContainsRune(`"/\`, r) {
			return -1
		}
		return r
	}, name)
	if letters := []rune(name); len(letters) > 100 {
		name = string(letters[len(letters)-100:])
	}
	if name == "" || name == "." {
		return "answer"
	}
	return name
}

// AddDocument keeps the scan of a doctor's answer with the decision. It returns
// [domain.Problems] for a file that is empty, too large, or no PDF, PNG or JPEG.
func (s *Store) AddDocument(ctx context.Context, actor Actor, client, decision uuid.UUID, name string, body []byte) (uuid.UUID, error) {
	id := newID()
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		var found bool
		if err := t.QueryRow(ctx, `SELECT EXISTS (SELECT FROM clearances WHERE id = $1 AND client_id = $2)`, decision, client).Scan(&found); err != nil {
			return err
		}
		if !found {
			return domain.ErrNotFound
		}
		megabytes := clearance.PolicyFrom(t.settings).DocumentMB
		kind := contentType(body)
		switch {
		case len(body) == 0:
			return domain.Problems{"document": "Choose a file."}
		case len(body) > megabytes<<20:
			return domain.Problems{"document": fmt.Sprintf("The file is too large. It may have %d MB.", megabytes)}
		case kind == "":
			return domain.Problems{"document": "This file is no PDF, PNG or JPEG, whatever it is called."}
		}
		sum := sha256.Sum256(body)
		if _, err := t.Exec(ctx, `
			INSERT INTO clearance_documents (id, clearance_id, name, content_type, size, sha256, body, at, by)
			VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`,
			id, decision, fileName(name), kind, len(body), sum[:], body, t.now, actor.ID); err != nil {
			return err
		}
		return t.audit(ctx, "document.add", client, "document/"+id.String(), map[string]any{"size": len(body), "type": kind})
	})
	if err != nil {
		return uuid.Nil, fmt.Errorf("add document to clearance %s: %w", decision, err)
	}
	return id, nil
}

// Document returns a scanned answer with its content. A content that is not what
// was stored is a fault.
func (s *Store) Document(ctx context.Context, actor Actor, client, id uuid.UUID) (Document, []byte, error) {
	var d Document
	var body []byte
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.viewClient(ctx, client); err != nil {
			return err
		}
		all, err := t.documents(ctx, client)
		if err != nil {
			return err
		}
		for _, o := range all {
			if o.ID == id {
				d = o
			}
		}
		if d.ID == uuid.Nil {
			return domain.ErrNotFound
		}
		if err := t.QueryRow(ctx, `SELECT body FROM clearance_documents WHERE id = $1`, id).Scan(&body); err != nil {
			return err
		}
		if sum := sha256.Sum256(body); !bytes.Equal(sum[:], d.SHA256) {
			return fmt.Errorf("document %s is not what was stored", id)
		}
		return t.audit(ctx, "document.view", client, "document/"+id.String(), nil)
	})
	if err != nil {
		return Document{}, nil, fmt.Errorf("document %s of client %s: %w", id, client, err)
	}
	return d, body, nil
}

// documents are all scanned answers about a client, without their content.
func (t *tx) documents(ctx context.Context, client uuid.UUID) ([]Document, error) {
	rows, _ := t.Query(ctx, `
		SELECT f.id, f.clearance_id, f.name, f.content_type, f.size, f.sha256, f.at, a.name AS by
		FROM clearance_documents f JOIN clearances d ON d.id = f.clearance_id JOIN accounts a ON a.id = f.by
		WHERE d.client_id = $1 ORDER BY f.id`, client)
	return pgx.CollectRows(rows, pgx.RowToStructByName[Document])
}
