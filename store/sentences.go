package store

import (
	"context"
	"fmt"

	"brae/domain"
	"brae/domain/heartrate"
	"brae/domain/volume"
)

// ClientSentences returns what a client may be told about a form with numbers in
// it, under the settings in use.
func (s *Store) ClientSentences(ctx context.Context) ([]domain.Sentence, error) {
	var list []domain.Sentence
	err := s.look(ctx, Actor{}, func(t *tx) error {
		list = append(volume.Sentences(volume.PolicyFrom(t.settings)), heartrate.Sentences(heartrate.PolicyFrom(t.settings))...)
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("sentences for clients: %w", err)
	}
	return list, nil
}
