package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/signal"
	"path/filepath"
	"runtime/debug"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/net/netutil"

	"wellwright/asset"
	"wellwright/store"
	"wellwright/web"
)

// served says how the pages are served.
type served struct {
	listen string
	prices string
	quiet  bool
}

func serveCommand() *cobra.Command {
	var s served
	cmd := &cobra.Command{
		Use:   "serve [STORE]",
		Short: "open the pages in a browser of this machine",
		Long: `serve opens the pages: wells, the long section, report, forms, options, book and
factors, on a store of books (a file; begun where there is none). It listens on
this machine alone and fetches nothing from elsewhere. Stop it with Ctrl-C.

Without STORE the books are kept in your own settings folder.`,
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			file, err := storeFile(args)
			if err != nil {
				return err
			}
			return s.run(cmd, file)
		},
	}
	f := cmd.Flags()
	f.StringVar(&s.listen, "listen", "127.0.0.1:8427", "address to listen on; any but a loopback one lets that network read and write your books")
	f.StringVar(&s.prices, "prices", "", "your own price list (CSV or YAML), used part by part in place of ours")
	f.BoolVar(&s.quiet, "quiet", false, "write no line for each request")
	return cmd
}

// storeFile is the store named, or the one in the user's settings folder.
func storeFile(args []string) (string, error) {
	if len(args) == 1 {
		return args[0], nil
	}
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", fmt.Errorf("serve: name a store: %w", err)
	}
	dir = filepath.Join(dir, "wellwright")
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", fmt.Errorf("serve: %w", err)
	}
	return filepath.Join(dir, "wells.db"), nil
}

// The bounds of a connection. A page that pushes sets its own end.
const (
	headTime    = 5 * time.Second
	bodyTime    = 60 * time.Second
	answerTime  = 90 * time.Second
	idleTime    = 2 * time.Minute
	streamTime  = time.Second // a stream goes on after a stop was asked for
	stopTime    = 5 * time.Second
	largestHead = 32 << 10
	connections = 256
)

// memory is what the pages may take before memory is collected harder. A command
// that ends soon lets it grow more freely.
const memory = 220 << 20

func (s served) run(cmd *cobra.Command, file string) error {
	debug.SetGCPercent(200)
	debug.SetMemoryLimit(memory)
	prices, err := readPrices(s.prices)
	if err != nil {
		return err
	}
	ctx, stop := signal.NotifyContext(cmd.Context(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	books, err := opened(ctx, file)
	if err != nil {
		return fmt.Errorf("serve: %w", err)
	}
	defer books.Close()
	l, err := net.Listen("tcp", s.listen)
	if err != nil {
		return fmt.Errorf("serve: %w; --listen 127.0.0.1:0 takes any free port", err)
	}
	hosts := hostsOf(l.Addr())
	pages, err := web.New(web.Config{Store: books, Prices: prices, Now: time.Now, Hosts: hosts, Log: s.log(cmd)})
	if err != nil {
		return err
	}
	s.greet(cmd, file, l.Addr(), hosts)
	return serveUntil(ctx, netutil.LimitListener(l, connections), pages.Handler())
}

// opened is the store of a file, begun where there is none.
func opened(ctx context.Context, file string) (*store.SQLite, error) {
	books, err := store.Open(ctx, file)
	if errors.Is(err, store.ErrNoStore) {
		return store.Create(ctx, file)
	}
	return books, err
}

// log writes to stderr, or nowhere but for what went wrong.
func (s served) log(cmd *cobra.Command) *slog.Logger {
	level := slog.LevelInfo
	if s.quiet {
		level = slog.LevelError
	}
	return slog.New(slog.NewTextHandler(cmd.ErrOrStderr(), &slog.HandlerOptions{Level: level}))
}

// hostsOf are the names under which an address may be called.
func hostsOf(a net.Addr) []string {
	hosts := []string{"localhost", "127.0.0.1", "::1"}
	if host, _, err := net.SplitHostPort(a.String()); err == nil && !net.ParseIP(host).IsLoopback() {
		hosts = append(hosts, strings.ToLower(host))
		if name, err := os.Hostname(); err == nil {
			hosts = append(hosts, strings.ToLower(name))
		}
	}
	return hosts
}

// greet says where the pages and the books are.
func (s served) greet(cmd *cobra.Command, file string, a net.Addr, hosts []string) {
	fmt.Fprintf(cmd.OutOrStdout(), "pages at http://%s/\nbooks in %s\nstop with Ctrl-C\n", a, file)
	if len(hosts) > 3 {
		fmt.Fprintln(cmd.ErrOrStderr(), "caution: whoever reaches this address can read and change the books, and nothing on the way is hidden from others on that network")
	}
	if m := asset.Missing(); len(m) > 0 {
		fmt.Fprintf(cmd.ErrOrStderr(), "built without %d files of fonts and page scripts: pages work, but look plainer and follow changes only when sent; make assets fetches them\n", len(m))
	}
}

// serveUntil serves until the context ends, then lets what runs end: what is being
// saved is saved, and streams are cut after a moment.
func serveUntil(ctx context.Context, l net.Listener, h http.Handler) error {
	requests, cut := context.WithCancel(context.Background())
	defer cut()
	server := &http.Server{Handler: h, ReadHeaderTimeout: headTime, ReadTimeout: bodyTime, WriteTimeout: answerTime, IdleTimeout: idleTime, MaxHeaderBytes: largestHead,
		BaseContext: func(net.Listener) context.Context { return requests }}
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(l) }()
	select {
	case err := <-failed:
		return fmt.Errorf("serve: %w", err)
	case <-ctx.Done():
	}
	time.AfterFunc(streamTime, cut)
	end, cancel := context.WithTimeout(context.Background(), stopTime)
	defer cancel()
	if err := server.Shutdown(end); err != nil && !errors.Is(err, context.DeadlineExceeded) {
		return fmt.Errorf("stop: %w", err)
	}
	return server.Close()
}
