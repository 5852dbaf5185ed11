// Package post sends what leaves Brae by e-mail. A mail says that there is
// something to look at and where, and never what: no mail holds a word about
// health, since it travels and lies about readable.
package post

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"net"
	"strconv"
	"time"

	"github.com/wneessen/go-mail"
)

// Config says how mail is sent. Address and From must be set.
type Config struct {
	Address  string // of the SMTP server, host:port; port 465 speaks TLS from the start
	From     string // sender, such as "Practice <brae@practice.example>"
	User     string // empty for a server that asks for no sign-in
	Password string
	TLS      *tls.Config // for tests; nil is the system's certificates
}

// Mailer sends mail through one SMTP server. It is safe for concurrent use.
type Mailer struct {
	host    string
	from    string
	options []mail.Option
}

// sendTime is how long a mail server may take in all. A person may be waiting.
const sendTime = 4 * time.Second

// New returns a mailer. It asks for TLS, except of a server on this machine.
func New(c Config) (*Mailer, error) {
	host, port, err := net.SplitHostPort(c.Address)
	if err != nil {
		return nil, fmt.Errorf("mail server %q: want host:port", c.Address)
	}
	number, err := strconv.Atoi(port)
	if err != nil {
		return nil, fmt.Errorf("mail server %q: want a number after the colon", c.Address)
	}
	m := &Mailer{host: host, from: c.From}
	if err := mail.NewMsg().From(c.From); err != nil {
		return nil, fmt.Errorf("sender of mail %q: want an address such as brae@practice.example", c.From)
	}
	m.options = []mail.Option{mail.WithPort(number), mail.WithTimeout(sendTime)}
	ip := net.ParseIP(host)
	switch {
	case number == 465:
		m.options = append(m.options, mail.WithSSL())
	case c.TLS == nil && (host == "localhost" || ip != nil && ip.IsLoopback()):
		m.options = append(m.options, mail.WithTLSPolicy(mail.NoTLS))
	default:
		m.options = append(m.options, mail.WithTLSPolicy(mail.TLSMandatory))
	}
	if c.TLS != nil {
		m.options = append(m.options, mail.WithTLSConfig(c.TLS))
	}
	if c.User != "" {
		m.options = append(m.options, mail.WithSMTPAuth(mail.SMTPAuthAutoDiscover), mail.WithUsername(c.User), mail.WithPassword(c.Password))
	}
	return m, nil
}

// Mail is one mail of plain text.
type Mail struct {
	To      string
	Subject string
	Text    string
	Stop    string // address that ends such mail with one POST (RFC 8058); none if empty
}

// ErrUnsure says that a mail may have been sent, or not.
var ErrUnsure = errors.New("nobody knows whether the mail was sent")

// Send hands a mail to the server. The error does not hold the address. It is
// [ErrUnsure] if the connection broke when the server may have taken the mail.
func (m *Mailer) Send(ctx context.Context, what Mail) error {
	msg := mail.NewMsg(mail.WithNoDefaultUserAgent())
	if err := errors.Join(msg.From(m.from), msg.To(what.To)); err != nil {
		return errors.New("mail: an address cannot be used")
	}
	msg.Subject(what.Subject)
	msg.SetGenHeader("Auto-Submitted", "auto-generated") // RFC 3834: no machine answers
	if what.Stop != "" {
		msg.SetGenHeader("List-Unsubscribe", "<"+what.Stop+">")
		msg.SetGenHeader("List-Unsubscribe-Post", "List-Unsubscribe=One-Click")
	}
	msg.SetBodyString(mail.TypeTextPlain, what.Text)
	client, err := mail.NewClient(m.host, m.options...)
	if err != nil {
		return fmt.Errorf("mail: %w", err)
	}
	ctx, cancel := context.WithTimeout(ctx, sendTime)
	defer cancel()
	err = client.DialAndSendWithContext(ctx, msg)
	if err == nil || msg.IsDelivered() { // what follows the mail, such as a reset, may fail
		return nil
	}
	refused, ok := errors.AsType[*mail.SendError](err)
	switch {
	case !ok:
		return fmt.Errorf("mail: no way to the server: %w", err)
	case refused.Reason == mail.ErrSMTPDataClose && refused.ErrorCode() == 0:
		return ErrUnsure
	}
	return fmt.Errorf("mail: the server refused it (%s, code %d)", refused.Reason, refused.ErrorCode()) // its own words may hold the address
}
