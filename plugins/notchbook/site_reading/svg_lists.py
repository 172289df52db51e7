"""What may stand in a drawing: the elements and attributes of SVG 2 that draw, describe or move, and run nothing."""

from __future__ import annotations

_ELEMENTS = """
a animate animateMotion animateTransform circle clipPath cursor defs desc ellipse feBlend feColorMatrix
feComponentTransfer feComposite feConvolveMatrix feDiffuseLighting feDisplacementMap feDistantLight feDropShadow
feFlood feFuncA feFuncB feFuncG feFuncR feGaussianBlur feImage feMerge feMergeNode feMorphology feOffset
fePointLight feSpecularLighting feSpotLight feTile feTurbulence filter flowRoot g image line linearGradient marker
mask metadata mpath path pattern polygon polyline radialGradient rect set solidcolor stop style svg switch symbol
text textPath title tspan use view
"""
ELEMENTS = frozenset(_ELEMENTS.split())
"""SVG 2, appendix E; without script, foreignObject and what plays sound or pictures of another host."""
_ATTRIBUTES = """
accumulate additive alignment-baseline amplitude attributeName attributeType azimuth baseFrequency baseProfile
baseline-shift begin bias by calcMode class clip clip-path clip-rule clipPathUnits color color-interpolation
color-interpolation-filters color-rendering contentScriptType contentStyleType cursor cx cy d diffuseConstant
direction display divisor dominant-baseline download dur dx dy edgeMode elevation enable-background end exponent
fill fill-opacity fill-rule filter filterUnits flood-color flood-opacity focusable font font-family
font-feature-settings font-size font-size-adjust font-stretch font-style font-variant font-variant-ligatures
font-weight fr from fx fy gradientTransform gradientUnits height hreflang id image-rendering in in2
intercept isolation k1 k2 k3 k4 kernelMatrix kernelUnitLength keyPoints keySplines keyTimes lang lengthAdjust
letter-spacing lighting-color limitingConeAngle line-height marker marker-end marker-mid marker-start markerHeight
markerUnits markerWidth mask mask-type maskContentUnits maskUnits max media method min mix-blend-mode mode name
numOctaves offset opacity operator order orient origin overflow paint-order path pathLength patternContentUnits
patternTransform patternUnits pointer-events points pointsAtX pointsAtY pointsAtZ preserveAlpha
preserveAspectRatio primitiveUnits r radius refX refY rel repeatCount repeatDur requiredExtensions
requiredFeatures restart result role rotate rx ry scale seed shape-rendering side slope solid-color solid-opacity
spacing specularConstant specularExponent spreadMethod startOffset stdDeviation stitchTiles stop-color
stop-opacity stroke stroke-dasharray stroke-dashoffset stroke-linecap stroke-linejoin stroke-miterlimit
stroke-opacity stroke-width style surfaceScale systemLanguage tabindex tableValues target targetX targetY
text-align text-anchor text-decoration text-overflow text-rendering textLength title to transform transform-box
transform-origin type unicode-bidi values vector-effect version viewBox viewTarget visibility white-space width
word-spacing writing-mode x x1 x2 xChannelSelector y y1 y2 yChannelSelector z zoomAndPan
"""
ATTRIBUTES = frozenset(_ATTRIBUTES.split())
"""Without a namespace; SVG 2, appendices F and G, without those that hold a script, and those of older drawings."""
