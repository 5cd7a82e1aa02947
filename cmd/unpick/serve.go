package main

import (
	"context"
	"fmt"
	"time"

	"unpick/api"
	"unpick/api/service"
)

type serveCommand struct {
	databaseFlags
	Addr string `default:"127.0.0.1:8080" help:"Where to serve, on this machine only."`
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
	return serve(ctx, s, jobs, c.Addr)
}

func serve(ctx context.Context, s streams, jobs *service.Service, addr string) error {
	server, err := api.Listen(addr, jobs)
	if err != nil {
		return err
	}
	fmt.Fprintf(s.out, "\nLook at it on http://%s (Ctrl-C stops)\n", server.Addr())
	return server.Serve(ctx)
}
