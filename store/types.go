package store

import (
	"encoding"
	"errors"
	"time"

	"github.com/jackc/pgx/v5/pgtype"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/triage"
)

// wrapEncode lets pgx send the domain's types: a day as a date, a class, a
// scope and a level by their names.
func wrapEncode(value any) (pgtype.WrappedEncodePlanNextSetter, any, bool) {
	switch value.(type) {
	case domain.Date:
		return &encodeDate{}, dateValue{}, true
	case intensity.Class, clearance.Scope, triage.Level:
		return &encodeName{}, "", true
	}
	return nil, nil, false
}

// wrapScan is wrapEncode the other way round.
func wrapScan(target any) (pgtype.WrappedScanPlanNextSetter, any, bool) {
	switch target.(type) {
	case *domain.Date:
		return &scanDate{}, new(dateValue), true
	case *intensity.Class, *clearance.Scope, *triage.Level:
		return &scanName{}, new(string), true
	}
	return nil, nil, false
}

// dateValue is a [domain.Date] that pgx can handle. The zero Date is NULL.
type dateValue domain.Date

// DateValue implements [pgtype.DateValuer].
func (d dateValue) DateValue() (pgtype.Date, error) {
	day := domain.Date(d)
	return pgtype.Date{Time: day.Time(), Valid: !day.IsZero()}, nil
}

// ScanDate implements [pgtype.DateScanner].
func (d *dateValue) ScanDate(v pgtype.Date) error {
	if v.InfinityModifier != pgtype.Finite {
		return errors.New("an infinite date is no day")
	}
	*d = dateValue{}
	if v.Valid {
		*d = dateValue(domain.DateOf(v.Time, time.UTC))
	}
	return nil
}

type encodeDate struct{ next pgtype.EncodePlan }

func (p *encodeDate) SetNext(next pgtype.EncodePlan) { p.next = next }

func (p *encodeDate) Encode(value any, buf []byte) ([]byte, error) {
	return p.next.Encode(dateValue(value.(domain.Date)), buf)
}

type scanDate struct{ next pgtype.ScanPlan }

func (p *scanDate) SetNext(next pgtype.ScanPlan) { p.next = next }

func (p *scanDate) Scan(src []byte, target any) error {
	return p.next.Scan(src, (*dateValue)(target.(*domain.Date)))
}

type encodeName struct{ next pgtype.EncodePlan }

func (p *encodeName) SetNext(next pgtype.EncodePlan) { p.next = next }

func (p *encodeName) Encode(value any, buf []byte) ([]byte, error) {
	text, err := value.(encoding.TextMarshaler).MarshalText()
	if err != nil {
		return nil, err
	}
	return p.next.Encode(string(text), buf)
}

type scanName struct{ next pgtype.ScanPlan }

func (p *scanName) SetNext(next pgtype.ScanPlan) { p.next = next }

func (p *scanName) Scan(src []byte, target any) error {
	var name string
	if err := p.next.Scan(src, &name); err != nil {
		return err
	}
	return target.(encoding.TextUnmarshaler).UnmarshalText([]byte(name))
}
