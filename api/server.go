// Package api answers browsers and programs: an Echo server over api/service.
//
// The idea: the contract (api/spec/openapi.yaml) comes first. Requests are held against it before a handler runs; handlers
// are thin; every fault is a problem (RFC 9457) with its place. It serves the loopback address only, because it knows no
// accounts yet.
//
// Looking for
//
//   - listening, time limits, stopping: server.go
//   - every route, and what every request passes: routes.go
//   - holding requests against the contract: contract.go; If-Match and Idempotency-Key: conditions.go
//   - addresses that are no text: readable.go; what a page posts: forms.go
//   - If-None-Match: unchanged.go; whom it answers, trusted proxies: proxy.go
//   - errors to statuses: problem.go; what every answer carries, under which name it answers: headers.go
//   - the handlers: rest; the pages: pages; the jobs behind both: service; who is asking: auth
package api

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/netip"
	"time"

	"unpick/api/service"
	"unpick/domain"
)

// Server is a listening server.
type Server struct {
	listener net.Listener
	http     *http.Server
	jobs     *service.Service
}

// Listen opens the address. Any but a loopback address is refused: whoever reaches the program may do everything.
// proxies are those whose word for a client's address is taken, see Config.
func Listen(addr string, jobs *service.Service, proxies ...netip.Prefix) (*Server, error) {
	host, _, err := net.SplitHostPort(addr)
	if err != nil {
		return nil, domain.Errorf(domain.Invalid, "%q is no address to serve on: write it as 127.0.0.1:8080", addr)
	}
	if ip := net.ParseIP(host); host != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return nil, domain.Errorf(domain.Refused, "%s is not this machine's own address: there are no accounts yet, so the program serves 127.0.0.1 only; reach it from elsewhere through a tunnel of your own", host)
	}
	listener, err := net.Listen("tcp", addr)
	if err != nil {
		return nil, domain.Errorf(domain.Refused, "cannot serve on %s (%v): stop what uses it, or give another with -addr", addr, err)
	}
	handler, err := NewHandler(Config{Jobs: jobs, TrustedProxies: proxies})
	if err != nil {
		listener.Close()
		return nil, err
	}
	return &Server{listener, &http.Server{Handler: handler, ReadHeaderTimeout: 5 * time.Second, ReadTimeout: time.Minute, WriteTimeout: 5 * time.Minute, IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 64 << 10}, jobs}, nil
}

// Addr is the address that it listens on.
func (s *Server) Addr() string { return s.listener.Addr().String() }

// Serve answers until ctx ends, then lets what is under way finish.
func (s *Server) Serve(ctx context.Context) error {
	if err := s.jobs.ForgetOldAnswers(ctx); err != nil {
		return err
	}
	stopped := make(chan error, 1)
	go func() {
		<-ctx.Done()
		grace, cancel := context.WithTimeout(context.WithoutCancel(ctx), 10*time.Second)
		defer cancel()
		stopped <- s.http.Shutdown(grace)
	}()
	if err := s.http.Serve(s.listener); !errors.Is(err, http.ErrServerClosed) {
		return fmt.Errorf("serving: %w", err)
	}
	return <-stopped
}
