// Package api answers browsers and programs: an Echo server over api/service.
//
// For now it has pages and documents; the JSON API over the same service, from a contract in api/spec, is to come.
// It serves the loopback address only, because it knows no accounts yet.
//
// Looking for
//
//   - listening, time limits, stopping: server.go
//   - every route: routes.go; errors to statuses: problem.go; what every answer carries: headers.go
//   - the pages: pages
package api

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"time"

	"unpick/api/service"
	"unpick/domain"
)

// Server is a listening server.
type Server struct {
	listener net.Listener
	http     *http.Server
}

// Listen opens the address. Any but a loopback address is refused: whoever reaches the program may do everything.
func Listen(addr string, jobs *service.Service) (*Server, error) {
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
	handler, err := Handler(jobs)
	if err != nil {
		listener.Close()
		return nil, err
	}
	return &Server{listener, &http.Server{Handler: handler, ReadHeaderTimeout: 5 * time.Second, ReadTimeout: time.Minute, WriteTimeout: 5 * time.Minute, IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 64 << 10}}, nil
}

// Addr is the address that it listens on.
func (s *Server) Addr() string { return s.listener.Addr().String() }

// Serve answers until ctx ends, then lets what is under way finish.
func (s *Server) Serve(ctx context.Context) error {
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
