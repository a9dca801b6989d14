//go:build !js

package pwa

import "encoding/json"

const (
	appName        = "Torchside"
	appDescription = "Settings, leak tests and practice notes for an oxy-fuel torch, beside the torch and offline."
)

// The icons are drawn by web/icons.
const (
	iconSmall    = "/web/icons/icon-192.png"
	iconLarge    = "/web/icons/icon-512.png"
	iconDrawn    = "/web/icons/icon.svg"
	iconMaskable = "/web/icons/maskable-512.png"
)

// webManifest follows the W3C Web Application Manifest. go-app's own has no shortcuts.
type webManifest struct {
	ID              string             `json:"id"`
	Name            string             `json:"name"`
	ShortName       string             `json:"short_name"`
	Description     string             `json:"description"`
	Lang            string             `json:"lang"`
	StartURL        string             `json:"start_url"`
	Scope           string             `json:"scope"`
	Display         string             `json:"display"`
	BackgroundColor string             `json:"background_color"`
	ThemeColor      string             `json:"theme_color"`
	Icons           []manifestIcon     `json:"icons"`
	Shortcuts       []manifestShortcut `json:"shortcuts"`
}

type manifestIcon struct {
	Src     string `json:"src"`
	Sizes   string `json:"sizes"`
	Type    string `json:"type"`
	Purpose string `json:"purpose,omitempty"`
}

type manifestShortcut struct {
	Name  string         `json:"name"`
	URL   string         `json:"url"`
	Icons []manifestIcon `json:"icons"`
}

func manifest(at folder) ([]byte, error) {
	small := manifestIcon{Src: at.Resolve(iconSmall), Sizes: "192x192", Type: "image/png"}
	return json.MarshalIndent(webManifest{
		ID: at.Resolve("/"), Name: appName, ShortName: appName, Description: appDescription, Lang: "en",
		StartURL: at.Resolve("/"), Scope: at.Resolve("/"), Display: "standalone",
		BackgroundColor: groundColor, ThemeColor: groundColor,
		Icons: []manifestIcon{
			small,
			{Src: at.Resolve(iconLarge), Sizes: "512x512", Type: "image/png"},
			{Src: at.Resolve(iconMaskable), Sizes: "512x512", Type: "image/png", Purpose: "maskable"},
			{Src: at.Resolve(iconDrawn), Sizes: "any", Type: "image/svg+xml"},
		},
		Shortcuts: []manifestShortcut{
			{Name: "Setup", URL: at.Resolve("/"), Icons: []manifestIcon{small}},
			{Name: "Leak test", URL: at.Resolve("/leak"), Icons: []manifestIcon{small}},
		},
	}, "", "  ")
}
