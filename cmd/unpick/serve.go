package main

import (
	"context"
	"fmt"
	"net/netip"
	"time"

	"unpick/api"
	"unpick/api/service"
)

type serveCommand struct {
	databaseFlags
	Addr         string         `default:"127.0.0.1:8080" help:"Where to serve, on this machine only."`
	TrustedProxy []netip.Prefix `placeholder:"CIDR" sep:"none" help:"A proxy in front whose word for the client's address (X-Forwarded-For) is taken, like 127.0.0.1/32; may be given several times. Without it forwarded headers are not looked at. Whoever the proxy lets through may do everything."`
}

// Run serves until it is interrupted.
func (c *serveCommand) Run(ctx context.Context, s streams) error {
	d, done, err := c.open(ctx, s.progress)
	if err != nil {
		return err
	}
	defer done()
	jobs, err := service.New(ctx, d, time.Now)
	if err != nil {
		return err
	}
	defer jobs.Close()
	return serve(ctx, s, jobs, c.Addr, c.TrustedProxy...)
}

func serve(ctx context.Context, s streams, jobs *service.Service, addr string, proxies ...netip.Prefix) error {
	server, err := api.Listen(addr, jobs, proxies...)
	if err != nil {
		return err
	}
	fmt.Fprintf(s.out, "\nLook at it on http://%s (Ctrl-C stops)\n", server.Addr())
	return server.Serve(ctx)
}
