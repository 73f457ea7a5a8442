package main

import (
	"encoding/hex"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/netip"
	"net/url"
	"os"
	"strconv"
	"strings"

	"scaperound/domain/share"
	"scaperound/web"
)

func oneOrZero(v string) (bool, error) {
	switch v {
	case "1":
		return true, nil
	case "0":
		return false, nil
	}
	return false, fmt.Errorf("%q is neither", v)
}

func setPublicURL(c *config, v string) error {
	u, err := url.Parse(v)
	switch {
	case err != nil:
		return errors.New("this is not an address")
	case u.Scheme != "https" && u.Scheme != "http":
		return errors.New("it must begin with https:// (or http://)")
	case u.User != nil:
		return errors.New("it must not hold a name or a password")
	case u.Hostname() == "":
		return errors.New("it names no host")
	case u.Path != "" && u.Path != "/", u.RawQuery != "", u.Fragment != "":
		return errors.New("it must end after the host and port")
	}
	if p := u.Port(); p != "" {
		if n, err := strconv.Atoi(p); err != nil || n < 1 || n > 65535 {
			return fmt.Errorf("%s is no port", p)
		}
	}
	c.publicURL = &url.URL{Scheme: u.Scheme, Host: strings.ToLower(u.Host)}
	return nil
}

// isLoopback is true of this machine's own names and addresses. It asks no
// name server.
func isLoopback(host string) bool {
	if host == "localhost" || strings.HasSuffix(host, ".localhost") {
		return true
	}
	addr, err := netip.ParseAddr(host)
	return err == nil && addr.Unmap().IsLoopback()
}

func checkListen(v string) error {
	host, port, err := net.SplitHostPort(v)
	if err != nil {
		return fmt.Errorf("%q has no port", v)
	}
	if n, err := strconv.Atoi(port); err != nil || n < 0 || n > 65535 {
		return fmt.Errorf("%q is no port", port)
	}
	if strings.ContainsAny(host, "/ ") {
		return fmt.Errorf("%q is no host", host)
	}
	return nil
}

func checkReadable(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	if info, err := f.Stat(); err != nil {
		return err
	} else if info.IsDir() {
		return fmt.Errorf("%s is a folder", path)
	}
	return nil
}

func checkFolder(path string) error {
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	if !info.IsDir() {
		return fmt.Errorf("%s is not a folder", path)
	}
	return nil
}

func setTrusted(c *config, v string) error {
	for _, part := range strings.Split(v, ",") {
		part = strings.TrimSpace(part)
		if addr, err := netip.ParseAddr(part); err == nil {
			addr = addr.Unmap()
			c.trusted = append(c.trusted, netip.PrefixFrom(addr, addr.BitLen()))
			continue
		}
		p, err := netip.ParsePrefix(part)
		if err != nil {
			return fmt.Errorf("%q is neither an address nor a network", part)
		}
		c.trusted = append(c.trusted, p.Masked())
	}
	return nil
}

// The faults below never repeat the value: it may hold a password.

func setDatabaseURL(c *config, v string) error {
	u, err := url.Parse(v)
	switch {
	case err != nil:
		return errors.New("this is not an address (a special character in the password must be written as %XX)")
	case u.Scheme != "postgres" && u.Scheme != "postgresql":
		return errors.New("it must begin with postgres://")
	case strings.Trim(u.Path, "/") == "" && u.Query().Get("dbname") == "":
		return errors.New("it names no database")
	}
	c.databaseURL = v
	return nil
}

func withPassword(databaseURL, password string) string {
	u, err := url.Parse(databaseURL)
	if err != nil {
		return databaseURL
	}
	name := ""
	if u.User != nil {
		name = u.User.Username()
	}
	u.User = url.UserPassword(name, password)
	return u.String()
}

func checkLinkKey(v string) error {
	_, err := parseLinkKey(v)
	return err
}

func parseLinkKey(v string) (key share.Key, err error) {
	b, err := hex.DecodeString(v)
	switch {
	case err != nil:
		return key, errors.New("these are not pairs of hexadecimal digits")
	case len(b) != len(key):
		return key, fmt.Errorf("it holds %d bytes", len(b))
	}
	return share.Key(b), nil
}

func setLog(c *config, v string) error {
	form, level, hasLevel := strings.Cut(v, ":")
	switch form {
	case "text":
	case "json":
		c.logJSON = true
	default:
		return fmt.Errorf("%q is not a form of the log", form)
	}
	if !hasLevel {
		return nil
	}
	switch level {
	case "debug":
		c.logLevel = slog.LevelDebug
	case "info":
		c.logLevel = slog.LevelInfo
	case "warn":
		c.logLevel = slog.LevelWarn
	case "error":
		c.logLevel = slog.LevelError
	default:
		return fmt.Errorf("%q is not a level", level)
	}
	return nil
}

// setTiles reads the address of map tiles.
func setTiles(c *config, v string) error {
	t, err := web.ReadTiles(v)
	c.tiles.Address = t.Address
	return err
}

// setRouting reads the address of a routing service.
func setRouting(c *config, v string) error {
	u, err := url.Parse(v)
	if err != nil || u.Scheme != "http" && u.Scheme != "https" || u.Host == "" || u.User != nil || u.RawQuery != "" || u.Fragment != "" {
		return errors.New("that is not the address of a routing service")
	}
	c.routing = u
	return nil
}
