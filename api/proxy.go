package api

import (
	"net"
	"net/netip"

	"github.com/labstack/echo/v4"

	"unpick/domain"
)

// clientAddress says whose request it is: the peer's own address, or, where the peer is a trusted proxy, the nearest
// address in X-Forwarded-For that no trusted proxy added. What stands further left anybody may have written. No address
// is trusted for lying in a private network.
func clientAddress(proxies []netip.Prefix) echo.IPExtractor {
	if len(proxies) == 0 {
		return echo.ExtractIPDirect()
	}
	trust := []echo.TrustOption{echo.TrustLoopback(false), echo.TrustLinkLocal(false), echo.TrustPrivateNet(false)}
	for _, p := range proxies {
		p = p.Masked()
		trust = append(trust, echo.TrustIPRange(&net.IPNet{IP: p.Addr().AsSlice(), Mask: net.CIDRMask(p.Bits(), p.Addr().BitLen())}))
	}
	return echo.ExtractIPFromXFFHeader(trust...)
}

// ownPeerOnly refuses a peer that is neither this machine nor a trusted proxy. Whom a proxy lets through is the word of
// whoever trusts it: there are no accounts yet.
func (s *surface) ownPeerOnly(next echo.HandlerFunc) echo.HandlerFunc {
	direct := echo.ExtractIPDirect()
	return func(c echo.Context) error {
		peer, err := netip.ParseAddr(direct(c.Request()))
		if err != nil || !peer.Unmap().IsLoopback() && !s.trusts(peer.Unmap()) {
			return domain.Errorf(elsewhere, "this program answers its own machine only: there are no accounts yet")
		}
		return next(c)
	}
}

func (s *surface) trusts(peer netip.Addr) bool {
	for _, p := range s.proxies {
		if p.Contains(peer) {
			return true
		}
	}
	return false
}
