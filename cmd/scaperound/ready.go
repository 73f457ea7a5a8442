package main

import (
	"context"
	"crypto/tls"
	"flag"
	"fmt"
	"net"
	"net/http"
	"time"
)

func readyCommand() command {
	return command{
		name:  "ready",
		title: "ask the server on this machine whether it is ready",
		help: `Reads the same variables as serve. Exit status 0 where /readyz says yes, 1
otherwise; for health checks in containers, where there is no other client.`,
		run: runReady,
	}
}

func runReady(ctx context.Context, e *env, flags *flag.FlagSet, args []string) error {
	listen := flags.String("listen", "", "`HOST:PORT` where the server listens (SCAPEROUND_LISTEN)")
	if _, err := e.parse(flags, args, 0, 0); err != nil {
		return err
	}
	c, err := readConfig(e)
	if err != nil {
		return err
	}
	if *listen != "" {
		if err := checkListen(*listen); err != nil {
			return usage("--listen: %v", err)
		}
		c.listen = *listen
	}
	ctx, cancel := context.WithTimeout(ctx, 4*time.Second)
	defer cancel()
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, "http://"+reachable(c.listen)+"/readyz", nil)
	if err != nil {
		return err
	}
	client := &http.Client{}
	if c.tlsCert != "" {
		req.URL.Scheme = "https"
		// The certificate is for the public name and the question goes to this
		// machine; nothing secret is sent or believed.
		client.Transport = &http.Transport{TLSClientConfig: &tls.Config{InsecureSkipVerify: true}}
	}
	if c.publicURL != nil {
		req.Host = c.publicURL.Host
	}
	answer, err := client.Do(req)
	if err != nil {
		return fmt.Errorf("no answer: %w", err)
	}
	defer answer.Body.Close()
	if answer.StatusCode != http.StatusOK {
		return fmt.Errorf("not ready: %s", answer.Status)
	}
	fmt.Fprintln(e.stdout, "ready")
	return nil
}

// reachable is an address to connect to for one to listen on: every address of
// the machine is reached by its loopback.
func reachable(listen string) string {
	host, port, err := net.SplitHostPort(listen)
	if err != nil {
		return listen
	}
	if ip := net.ParseIP(host); host == "" || (ip != nil && ip.IsUnspecified()) {
		host = "127.0.0.1"
	}
	return net.JoinHostPort(host, port)
}
