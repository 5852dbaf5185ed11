// Package posttest is a mail server for tests.
package posttest

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"errors"
	"io"
	"math/big"
	"mime/quotedprintable"
	"net"
	"net/mail"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/emersion/go-smtp"
)

// Server is an SMTP server on this machine. It keeps what it takes.
type Server struct {
	Address string
	Client  *tls.Config // what trusts its certificate; nil for a server without TLS

	mu     sync.Mutex
	refuse bool
	mails  []Mail
}

// Mail is a mail as it has arrived.
type Mail struct {
	To     string
	Header mail.Header
	Text   string
	TLS    bool // it came encrypted
}

// Start starts a server that ends with the test. With a certificate of its own it
// speaks TLS if asked to (STARTTLS).
func Start(t testing.TB, withTLS bool) *Server {
	t.Helper()
	s := &Server{}
	server := smtp.NewServer(smtp.BackendFunc(func(c *smtp.Conn) (smtp.Session, error) { return &session{s: s, c: c}, nil }))
	server.AllowInsecureAuth = false
	server.ErrorLog = silent{}
	if withTLS {
		server.TLSConfig, s.Client = certificate(t)
	}
	socket, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	s.Address = socket.Addr().String()
	go func() { _ = server.Serve(socket) }() // ends with Close
	t.Cleanup(func() { _ = server.Close() })
	return s
}

type silent struct{}

func (silent) Printf(string, ...any) {}
func (silent) Println(...any)        {}

// Refuse makes the server refuse what comes, or take it again.
func (s *Server) Refuse(refuse bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.refuse = refuse
}

// Mails returns what has arrived.
func (s *Server) Mails() []Mail {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]Mail(nil), s.mails...)
}

// Await waits for the n-th mail.
func (s *Server) Await(t testing.TB, n int) Mail {
	t.Helper()
	for range 600 {
		if mails := s.Mails(); len(mails) >= n {
			return mails[n-1]
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Fatalf("only %d mails have arrived", len(s.Mails()))
	return Mail{}
}

// session is a connection of a client.
type session struct {
	s  *Server
	c  *smtp.Conn
	to string
}

func (x *session) Reset()                               {}
func (x *session) Logout() error                        { return nil }
func (x *session) Mail(string, *smtp.MailOptions) error { return nil }

func (x *session) Rcpt(to string, _ *smtp.RcptOptions) error {
	x.s.mu.Lock()
	defer x.s.mu.Unlock()
	if x.s.refuse {
		return &smtp.SMTPError{Code: 550, EnhancedCode: smtp.EnhancedCode{5, 1, 1}, Message: "nobody by the name of " + to}
	}
	x.to = to
	return nil
}

func (x *session) Data(r io.Reader) error {
	m, err := mail.ReadMessage(r)
	if err != nil {
		return err
	}
	body := io.Reader(m.Body)
	if strings.EqualFold(m.Header.Get("Content-Transfer-Encoding"), "quoted-printable") {
		body = quotedprintable.NewReader(body)
	}
	text, err := io.ReadAll(body)
	if err != nil {
		return err
	}
	_, encrypted := x.c.TLSConnectionState()
	x.s.mu.Lock()
	defer x.s.mu.Unlock()
	x.s.mails = append(x.s.mails, Mail{To: x.to, Header: m.Header, Text: strings.ReplaceAll(string(text), "\r\n", "\n"), TLS: encrypted})
	return nil
}

// certificate makes one for this machine and what trusts it.
func certificate(t testing.TB) (server, client *tls.Config) {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	template := &x509.Certificate{
		SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: "mail.test"}, IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)},
		NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour), IsCA: true, BasicConstraintsValid: true,
	}
	der, err2 := x509.CreateCertificate(rand.Reader, template, template, &key.PublicKey, key)
	parsed, err3 := x509.ParseCertificate(der)
	if err := errors.Join(err, err2, err3); err != nil {
		t.Fatal(err)
	}
	pool := x509.NewCertPool()
	pool.AddCert(parsed)
	return &tls.Config{Certificates: []tls.Certificate{{Certificate: [][]byte{der}, PrivateKey: key}}}, &tls.Config{RootCAs: pool, ServerName: "127.0.0.1"}
}
